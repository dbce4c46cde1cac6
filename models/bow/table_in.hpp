#pragma once

#include <filesystem>

#include "models/bow/part_table.hpp"

namespace limbwright::models {

/// A table of a bow file under reading. A table that is missing though it is needed stays silent: the missing
/// table was complaint enough, and its values become NaN or empty.
class TableIn final : public PartTable {
public:
    /// @param folder  where the files of grooves and meshes lie
    TableIn(TableReader table, Complaints& complaints, const std::filesystem::path& folder)
        : table_(std::move(table)), complaints_(complaints), folder_(folder) {}

    [[nodiscard]] bool reading() const override { return true; }
    [[nodiscard]] bool has(std::string_view key) override { return table_.has(key); }
    void complain(std::string_view key, std::string wanted, std::string found) override;
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
    [[nodiscard]] std::vector<std::string> names(std::vector<std::string> given) override;
    void left_out(std::string_view key, std::string_view note) override;
    void note(std::string_view) override {}

protected:
    void choose(const Key& key, std::size_t& index, const std::vector<std::string_view>& names) override;
    void list(const Key& key, std::size_t size, const std::function<void(std::size_t)>& resize,
              const std::function<void(PartTable&, std::size_t)>& row) override;

private:
    /// Whether there is something to read: the key, or a complaint that it is missing.
    [[nodiscard]] bool asks(const Key& key) { return key.needed || table_.has(key.name); }

    TableReader table_;
    Complaints& complaints_;
    const std::filesystem::path& folder_;
};

}  // namespace limbwright::models
