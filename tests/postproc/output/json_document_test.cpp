#include "postproc/output/json_document.hpp"

#include <gtest/gtest.h>

#include <limits>
#include <nlohmann/json.hpp>

namespace limbwright::postproc::json_document_test {
namespace {

TEST(JsonDocument, BeginsWithSchemaAndVersions) {
    const nlohmann::ordered_json document = json_document("draw", {{"bow", "mine"}, {"states", {1, 2}}});
    std::vector<std::string> keys;
    for (const auto& [key, value] : document.items()) keys.push_back(key);
    EXPECT_EQ(keys,
              (std::vector<std::string>{"schema", "schema_version", "limbwright_version", "bow", "states"}));
    EXPECT_EQ(document["schema"], "limbwright draw");
    EXPECT_EQ(document["schema_version"], 1);
}

TEST(JsonDocument, WhatIsNoNumberIsNull) {
    EXPECT_EQ(finite_or_null(2.5), 2.5);
    EXPECT_TRUE(finite_or_null(std::numeric_limits<double>::quiet_NaN()).is_null());
    EXPECT_TRUE(finite_or_null(std::numeric_limits<double>::infinity()).is_null());
}

}  // namespace
}  // namespace limbwright::postproc::json_document_test
