#include "models/bow/bow_keys.hpp"

#include <gtest/gtest.h>

#include "models/bow/bow_file.hpp"
#include "models/bow/table_out.hpp"
#include "tests/models/bow/bow_texts.hpp"

namespace limbwright::models::bow_keys_test {
namespace {

std::string written(Bow bow) {
    Laminae laminae;
    TomlPage page;
    TableOut file(page);
    describe(file, bow, laminae);
    return page.text();
}

TEST(BowKeys, WhatIsWrittenReadsBackToTheSameText) {
    const std::string text = written(bow_from_toml(crossed_bow_text, "b.toml"));
    EXPECT_EQ(written(bow_from_toml(text, "b.toml")), text);
}

TEST(BowKeys, AxlesThatDifferStandApart) {
    Bow bow = bow_from_toml(crossed_bow_text, "b.toml");
    EXPECT_NE(written(bow).find("\n[axle]\n"), std::string::npos);
    bow.axle_bottom.diameter += 1;
    const std::string text = written(bow);
    EXPECT_EQ(text.find("\n[axle]\n"), std::string::npos);
    EXPECT_DOUBLE_EQ(bow_from_toml(text, "b.toml").axle_bottom.diameter, bow.axle_bottom.diameter);
    EXPECT_DOUBLE_EQ(bow_from_toml(text, "b.toml").axle_top.diameter, bow.axle_top.diameter);
}

}  // namespace
}  // namespace limbwright::models::bow_keys_test
