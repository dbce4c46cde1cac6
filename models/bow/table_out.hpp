#pragma once

#include "models/bow/part_table.hpp"
#include "models/bow/toml_page.hpp"

namespace limbwright::models {

/// A table of a bow file under writing.
class TableOut final : public PartTable {
public:
    /// The top of the file, written to a page.
    explicit TableOut(TomlPage& page) : page_(&page) {}

    [[nodiscard]] bool reading() const override { return false; }
    [[nodiscard]] bool has(std::string_view) override { return false; }
    void complain(std::string_view, std::string, std::string) override {}
    void quantity(const Key& key, double& value, const Dimension& dimension, Range range) override;
    void quantity(const Key& key, std::optional<double>& value, const Dimension& dimension,
                  Range range) override;
    void quantities(const Key& key, std::vector<double>& values, const Dimension& dimension,
                    Range range) override;
    void number(const Key& key, double& value, Range range) override;
    void number(const Key& key, std::optional<double>& value, Range range) override;
    void numbers(const Key& key, std::array<double, 2>& values) override;
    void whole_number(const Key& key, int& value, int least, int most) override;
    void point(const Key& key, Vec2& p, Range range) override;
    void point(const Key& key, Vec3& p, Range range) override;
    void text(const Key& key, std::string& value) override;
    void file(const Key& key, std::optional<Track::Traced>& groove) override;
    void file(const Key& key, std::optional<Track::Support>& groove) override;
    void file(const Key& key, std::optional<PartMesh>& mesh, PartModel model) override;
    void table(const Key& key, Form form, const std::function<void(PartTable&)>& describe) override;
    [[nodiscard]] std::vector<std::string> names(std::vector<std::string> given) override { return given; }
    void left_out(std::string_view key, std::string_view note) override;
    void note(std::string_view lines) override;

protected:
    void choose(const Key& key, std::size_t& index, const std::vector<std::string_view>& names) override;
    void list(const Key& key, std::size_t size, const std::function<void(std::size_t)>& resize,
              const std::function<void(PartTable&, std::size_t)>& row) override;

private:
    TableOut(TomlPage* page, std::string path) : page_(page), path_(std::move(path)) {}
    void put(const Key& key, const std::string& value);
    [[nodiscard]] std::string in_braces() const;

    TomlPage* page_;                  ///< none: a table on one line
    std::string path_;                ///< of a section
    std::vector<std::string> items_;  ///< of a table on one line
};

}  // namespace limbwright::models
