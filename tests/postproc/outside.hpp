#pragma once

#include <fmt/format.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

/// What the tests of files need: a folder of their own, and readers that are not ours.
namespace limbwright::tests {

/// Empty, and gone with all its content when the test ends.
class TemporaryFolder {
public:
    TemporaryFolder()
        : path_(std::filesystem::temp_directory_path() /
                fmt::format("limbwright_test_{}_{}", ::getpid(), count_++)) {
        std::filesystem::create_directories(path_);
    }
    ~TemporaryFolder() { std::filesystem::remove_all(path_); }
    TemporaryFolder(const TemporaryFolder&) = delete;
    TemporaryFolder& operator=(const TemporaryFolder&) = delete;

    [[nodiscard]] std::filesystem::path operator/(const std::string& name) const { return path_ / name; }
    [[nodiscard]] const std::filesystem::path& path() const { return path_; }
    [[nodiscard]] int entries() const {
        return static_cast<int>(std::distance(std::filesystem::directory_iterator(path_), {}));
    }

private:
    inline static int count_ = 0;
    std::filesystem::path path_;
};

inline std::string content(const std::filesystem::path& file) {
    std::ifstream stream(file, std::ios::binary);
    std::ostringstream text;
    text << stream.rdbuf();
    return text.str();
}

/// Standard output and standard error of a shell command, and whether its exit status was 0.
struct Outcome {
    bool succeeded;
    std::string output;
};

inline Outcome run(const std::string& command) {
    const TemporaryFolder folder;
    const std::filesystem::path output = folder / "output";
    const int status = std::system(fmt::format("( {} ) >{} 2>&1", command, output.string()).c_str());
    return {status == 0, content(output)};
}

/// What Python's XML parser says about a text.
inline Outcome parsed_as_xml(const std::string& text) {
    const TemporaryFolder folder;
    const std::filesystem::path file = folder / "text.xml";
    std::ofstream(file) << text;
    return run(fmt::format(
        "/usr/bin/python3 -c 'import sys, xml.dom.minidom; xml.dom.minidom.parse(sys.argv[1])' {}",
        file.string()));
}

}  // namespace limbwright::tests
