#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <regex>
#include <set>

#include "tests/postproc/outside.hpp"

/// The student's study of cam lean: its text against what its program says now.
namespace limbwright::tests::cam_lean_study_test {
namespace {

namespace fs = std::filesystem;

const fs::path examples = fs::path(SOURCE_DIR) / "examples";

std::string text() {
    return content(examples / "cam_lean_study.md");
}

/// Tables of the text by their names.
std::map<std::string, std::string> tables_of(const std::string& text) {
    const std::regex marked("<!-- table: (\\w+) -->\n```text\n([^`]*)```\n<!-- end -->");
    std::map<std::string, std::string> tables;
    for (std::sregex_iterator it(text.begin(), text.end(), marked), end; it != end; ++it)
        tables[(*it)[1]] = (*it)[2];
    return tables;
}

std::vector<std::string> words_of(const std::string& text) {
    std::istringstream stream(text);
    std::vector<std::string> words;
    for (std::string word; stream >> word;) words.push_back(word);
    return words;
}

/// Whether two words are the same, or decimal numbers with equally many digits that differ by one in the
/// last: another processor may round another way.
bool agree(const std::string& a, const std::string& b) {
    if (a == b) return true;
    static const std::regex decimal("-?\\d+(\\.(\\d+))?");
    std::smatch in_a, in_b;
    if (!std::regex_match(a, in_a, decimal) || !std::regex_match(b, in_b, decimal)) return false;
    if (in_a[2].length() != in_b[2].length()) return false;
    return std::abs(std::stod(a) - std::stod(b)) < 1.5 * std::pow(10., -in_a[2].length());
}

class CamLeanStudy : public ::testing::Test {
protected:
    static void SetUpTestSuite() {
        folder_ = std::make_unique<TemporaryFolder>();
        outcome_ =
            run(fmt::format("'{}' '{}' '{}'", CAM_LEAN_STUDY, examples.string(), folder_->path().string()));
    }
    static void TearDownTestSuite() { folder_.reset(); }
    void SetUp() override { ASSERT_TRUE(outcome_.succeeded) << outcome_.output; }

    /// Names, without folder and ending, of the files that the program left.
    static std::set<std::string> left(const std::string& ending) {
        std::set<std::string> names;
        for (const auto& entry : fs::directory_iterator(folder_->path()))
            if (entry.path().extension() == ending) names.insert(entry.path().stem().string());
        return names;
    }
    static const TemporaryFolder& folder() { return *folder_; }

private:
    inline static std::unique_ptr<TemporaryFolder> folder_;
    inline static Outcome outcome_{};
};

TEST_F(CamLeanStudy, EveryTableStandsInTheTextAsTheProgramPrintsIt) {
    const std::map<std::string, std::string> tables = tables_of(text());
    const std::set<std::string> names = left(".txt");
    EXPECT_EQ(tables.size(), names.size());
    for (const std::string& name : names) {
        ASSERT_TRUE(tables.contains(name)) << name << " is not in the text";
        const std::vector<std::string> said = words_of(tables.at(name));
        const std::vector<std::string> found = words_of(content(folder() / (name + ".txt")));
        ASSERT_EQ(said.size(), found.size()) << name;
        for (std::size_t i = 0; i < said.size(); ++i)
            EXPECT_TRUE(agree(said[i], found[i])) << name << ": " << said[i] << " is now " << found[i];
    }
}

TEST_F(CamLeanStudy, EveryPictureStandsBesideTheTextAndIsShown) {
    const std::set<std::string> names = left(".svg");
    EXPECT_FALSE(names.empty());
    for (const std::string& name : names) {
        EXPECT_TRUE(fs::exists(examples / (name + ".svg"))) << name;
        EXPECT_NE(text().find("](" + name + ".svg)"), std::string::npos) << name;
    }
}

TEST(CamLeanStudyText, ItsSentencesUseOnlyDecimalNumbersOfItsTables) {
    const std::string whole = text();
    std::set<std::string> known;
    for (const auto& [name, table] : tables_of(whole))
        for (const std::string& word : words_of(table))
            known.insert(word.front() == '-' ? word.substr(1) : word);
    const std::string sentences = std::regex_replace(whole, std::regex("```[^`]*```"), "");
    const std::regex decimal("\\d+\\.\\d+");
    int numbers = 0;
    for (std::sregex_iterator it(sentences.begin(), sentences.end(), decimal), end; it != end;
         ++it, ++numbers)
        EXPECT_TRUE(known.contains(it->str())) << it->str() << " stands in no table";
    EXPECT_GT(numbers, 30);  // or nothing was looked at
}

}  // namespace
}  // namespace limbwright::tests::cam_lean_study_test
