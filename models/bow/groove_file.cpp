#include "models/bow/groove_file.hpp"

#include <fmt/format.h>

#include <cmath>
#include <fstream>
#include <limits>
#include <string_view>

#include "models/input/units.hpp"

namespace limbwright::models {
namespace {

struct Row {
    int line;
    double first, second;
};

bool blank_or_comment(std::string_view line) {
    const auto first = line.find_first_not_of(" \t\r");
    return first == std::string_view::npos || line[first] == '#';
}

std::string without_blanks(std::string_view line) {
    std::string result;
    for (const char c : line)
        if (c != ' ' && c != '\t' && c != '\r') result += c;
    return result;
}

/// All rows that can be read; complains about the others.
std::vector<Row> rows(const std::filesystem::path& file, const std::string& shown, const std::string& key,
                      std::string_view header, Complaints& complaints) {
    constexpr std::size_t fewest = 3;  // two points bound no area
    std::ifstream stream(file);
    std::string line;
    bool header_seen = false;
    std::vector<Row> result;
    if (!stream || std::filesystem::is_directory(file)) {
        complaints.add(key,
                       fmt::format("must name a file beside the bow file, but {} cannot be read", shown));
        return result;
    }
    bool sound = true;
    for (int number = 1; std::getline(stream, line); ++number) {
        constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";
        if (number == 1 && line.starts_with(byte_order_mark)) line.erase(0, byte_order_mark.size());
        if (blank_or_comment(line)) continue;
        const std::string text = without_blanks(line);
        if (!header_seen) {
            header_seen = true;
            if (text == header) continue;
            complaints.add_at({shown, number, 0}, "the header", fmt::format("must be \"{}\"", header),
                              fmt::format("\"{}\"", text));
            return result;
        }
        const auto comma = text.find(',');
        const std::string_view all = text;
        const auto first = number_in(all.substr(0, comma));
        const auto second = comma == std::string::npos ? std::nullopt : number_in(all.substr(comma + 1));
        if (first && second && std::isfinite(*first) && std::isfinite(*second)) {
            result.push_back({number, *first, *second});
        } else {
            sound = false;
            complaints.add_at({shown, number, 0}, "the row", "must be two numbers such as \"12.5,-3.2\"",
                              fmt::format("\"{}\"", text));
        }
    }
    if (sound && result.size() < fewest)
        complaints.add(key, fmt::format("must name a file with at least {} rows, but {} has {}", fewest,
                                        shown, result.size()));
    return result;
}

}  // namespace

Track::Traced read_traced(const std::filesystem::path& file, const std::string& shown, const std::string& key,
                          Complaints& complaints) {
    Track::Traced traced;
    for (const Row& row : rows(file, shown, key, "u_mm,v_mm", complaints)) {
        const Vec2 point(row.first, row.second);
        if (!traced.points.empty() && traced.points.back() == point)
            complaints.add_at({shown, row.line, 0}, "the point", "must differ from the one before it");
        traced.points.push_back(point);
    }
    return traced;
}

Track::Support read_support(const std::filesystem::path& file, const std::string& shown,
                            const std::string& key, Complaints& complaints) {
    Track::Support support;
    double before = -std::numeric_limits<double>::infinity();
    for (const Row& row : rows(file, shown, key, "direction_deg,distance_mm", complaints)) {
        if (!(row.first > before))
            complaints.add_at({shown, row.line, 0}, "the direction",
                              fmt::format("must rise from row to row, above {} deg", before),
                              fmt::format("{} deg", row.first));
        before = row.first;
        support.direction.push_back(row.first * units::angle.units.front().factor);  // degrees
        support.distance.push_back(row.second);
    }
    return support;
}

std::string to_csv(const Track::Traced& traced) {
    std::string text = "u_mm,v_mm\n";
    for (const Vec2& point : traced.points) text += fmt::format("{},{}\n", point.x(), point.y());
    return text;
}

std::string to_csv(const Track::Support& support) {
    std::string text = "direction_deg,distance_mm\n";
    for (std::size_t i = 0; i < support.direction.size(); ++i) {
        const std::string direction = written(support.direction[i], units::angle);
        text += fmt::format("{},{}\n", direction.substr(0, direction.find(' ')), support.distance[i]);
    }
    return text;
}

}  // namespace limbwright::models
