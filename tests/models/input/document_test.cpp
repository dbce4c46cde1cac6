#include "models/input/document.hpp"

#include <gtest/gtest.h>

namespace limbwright::models::document_test {
namespace {

std::string unknown_keys_said(const std::string& text, const std::vector<std::string>& asked) {
    Document document(text, "f.toml");
    for (const std::string& path : asked) document.note_asked(path);
    document.complain_about_unknown_keys();
    std::string said;
    for (const Complaint& complaint : document.complaints().all()) said += sentence(complaint) + "\n";
    return said;
}

TEST(Document, TextThatIsNotTomlIsToldWithItsPlace) {
    try {
        const Document document("a = 1\nb = = 2\n", "f.toml");
        FAIL() << "nothing was thrown";
    } catch (const InputError& error) {
        EXPECT_EQ(std::string(error.what()).substr(0, 31), "f.toml:2:5: this is not TOML: E");
    }
}

TEST(Document, AsciiOrNotStrayBytesAreAnInputError) {
    for (const char* text : {"\xFF\xFE", "a = \"\xC3\x28\"", "\xC3\xA4 = 1", "a = 1\x01"})
        EXPECT_THROW(Document(text, "f.toml"), InputError) << text;
}

TEST(Document, EditDistanceCountsEverySlipOnce) {
    EXPECT_EQ(edit_distance("width", "width"), 0);
    EXPECT_EQ(edit_distance("widht", "width"), 1);
    EXPECT_EQ(edit_distance("wdth", "width"), 1);
    EXPECT_EQ(edit_distance("widths", "width"), 1);
    EXPECT_EQ(edit_distance("with", "width"), 1);
    EXPECT_EQ(edit_distance("", "width"), 5);
}

TEST(Document, AMisspeltKeyIsToldWhatWasMeant) {
    EXPECT_EQ(unknown_keys_said("[limb]\nwidht = 1", {"limb", "limb.width", "limb.length"}),
              "f.toml:2:1: limb.widht is not a known key; did you mean limb.width?\n");
}

TEST(Document, AKeyInTheWrongTableIsToldWhereItBelongs) {
    EXPECT_EQ(unknown_keys_said("draw_length = 1", {"name", "shooter", "shooter.draw_length"}),
              "f.toml:1:1: draw_length is not a known key; did you mean shooter.draw_length?\n");
}

TEST(Document, AKeyLikeNoneIsToldThoseThatThereAre) {
    EXPECT_EQ(unknown_keys_said("[limb]\ncolour = 1", {"limb", "limb.width", "limb.length"}),
              "f.toml:2:1: limb.colour is not a known key; known here are length, width\n");
}

TEST(Document, UnknownKeysAreFoundInListsOfTables) {
    EXPECT_EQ(unknown_keys_said("s = [{ at = 1 }, { att = 2 }]", {"s", "s[0].at", "s[1].at"}),
              "f.toml:1:20: s[1].att is not a known key; did you mean s[1].at?\n");
}

TEST(Document, KnownKeysAreLeftInPeace) {
    EXPECT_EQ(unknown_keys_said("[limb]\nwidth = 1", {"limb", "limb.width"}), "");
}

}  // namespace
}  // namespace limbwright::models::document_test
