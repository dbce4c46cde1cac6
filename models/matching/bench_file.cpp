#include "models/matching/bench_file.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <fstream>
#include <iterator>

#include "models/bow/toml_page.hpp"
#include "models/input/document.hpp"
#include "models/matching/calibration_parameters.hpp"
#include "models/matching/observables.hpp"

namespace limbwright::models {
namespace {

namespace fs = std::filesystem;

struct CurveHeader {
    std::string_view text;
    double draw, force;  ///< factors to mm and N
};
constexpr std::array curve_headers{
    CurveHeader{"draw_in,force_lbf", units::inch, units::pound},
    CurveHeader{"draw_mm,force_N", 1, 1},
};

std::string without_blanks(std::string_view text) {
    std::string result;
    for (const char c : text)
        if (c != ' ' && c != '\t' && c != '\r') result += c;
    return result;
}

/// Rows nearest to evenly spread draws.
std::vector<Measurement> thinned(std::vector<Measurement> rows) {
    if (rows.size() <= most_curve_rows) return rows;
    const double first = *rows.front().at, last = *rows.back().at;
    std::vector<Measurement> some;
    for (int i = 0; i < most_curve_rows; ++i) {
        const double wanted = first + (last - first) * i / (most_curve_rows - 1);
        const auto nearest = std::ranges::min_element(
            rows, {}, [&](const Measurement& m) { return std::abs(*m.at - wanted); });
        if (some.empty() || *some.back().at != *nearest->at) some.push_back(*nearest);
    }
    return some;
}

class BenchReader {
public:
    BenchReader(Document& document, fs::path file, const Bow& bow)
        : document_(document), top_(document), file_(std::move(file)), bow_(bow) {}

    BenchRecord read() {
        sheet_.name = top_.text_or("name", file_.stem().string());
        for (const BenchQuantity& quantity : bench_quantities(bow_))
            if (quantity.at_a_draw)
                read_weights(quantity);
            else if (top_.has(quantity.key))
                read_one(quantity);
        read_sure();
        document_.complain_about_unknown_keys();
        if (sheet_.measurements.empty() && document_.complaints().all().empty())
            document_.complaints().add("axle_to_axle",
                                       "or another measurement must be there: nothing was measured");
        document_.complaints().finish();
        return std::move(sheet_);
    }

private:
    [[nodiscard]] int line_of(std::string_view key) const {
        const toml::node* node = document_.table().get(key);
        return node ? static_cast<int>(node->source().begin.line) : 0;
    }

    double sure(TableReader& table, const BenchQuantity& quantity) {
        return table.quantity_or("sure", quantity.sigma, *quantity.dimension, {.above = 0});
    }

    void read_one(const BenchQuantity& quantity) {
        Measurement m{quantity.key, {}, 0, quantity.sigma, line_of(quantity.key), document_.file()};
        const toml::node* node = document_.table().get(quantity.key);
        if (node->is_table()) {
            TableReader table = top_.table(quantity.key);
            m.value = table.quantity("is", *quantity.dimension);
            m.sigma = sure(table, quantity);
        } else {
            m.value = top_.quantity(quantity.key, *quantity.dimension);
        }
        sheet_.measurements.push_back(m);
    }

    void read_weights(const BenchQuantity& quantity) {
        const auto nearest_draw = [&](double draw) {
            return std::ranges::any_of(sheet_.measurements, [&](const Measurement& m) {
                return m.at && std::abs(*m.at - draw) < 1e-6;  // inches and millimetres of one length
            });
        };
        if (top_.has(quantity.key)) {
            for (TableReader& table : top_.tables(quantity.key)) {
                Measurement m{quantity.key, {}, 0, quantity.sigma, line_of(quantity.key), document_.file()};
                m.at = table.quantity("at", units::length, {.at_least = 100, .at_most = 1500});
                m.value = table.quantity("force", units::force, {.above = 0, .at_most = 2000});
                m.sigma = sure(table, quantity);
                if (const toml::array* list = document_.table()[quantity.key].as_array()) {
                    const std::size_t place = weights_seen_++;
                    if (place < list->size()) m.line = static_cast<int>((*list)[place].source().begin.line);
                }
                if (nearest_draw(*m.at))
                    table.complain("at", "must differ from the draw lengths before it",
                                   shown(*m.at, units::length));
                sheet_.measurements.push_back(m);
            }
        }
        if (!top_.has("force_draw")) return;
        double sigma = quantity.sigma;
        std::string name, key = "force_draw";
        if (document_.table().get("force_draw")->is_table()) {
            TableReader table = top_.table("force_draw");
            name = table.text("file");
            sigma = sure(table, quantity);
            key = "force_draw.file";
        } else {
            name = top_.text("force_draw");
        }
        if (!name.empty())
            for (Measurement& row : curve(quantity, name, key)) {
                row.sigma = sigma;
                sheet_.measurements.push_back(row);
            }
    }

    /// All rows that can be read, thinned; complains about the others.
    std::vector<Measurement> curve(const BenchQuantity& quantity, const std::string& name,
                                   const std::string& key) {
        const fs::path path = file_.parent_path() / name;
        std::ifstream stream(path);
        std::error_code ignored;
        Complaints& complaints = document_.complaints();
        if (!stream || fs::is_directory(path, ignored)) {
            complaints.add(
                key, fmt::format("must name a file beside this one, but {} cannot be read", path.string()));
            return {};
        }
        const CurveHeader* header = nullptr;
        std::vector<Measurement> rows;
        std::string line;
        for (int number = 1; std::getline(stream, line); ++number) {
            const std::string text = without_blanks(line);
            if (text.empty() || text.front() == '#') continue;
            const Place place{path.string(), number, 0};
            if (!header) {
                header = std::ranges::find(curve_headers, text, &CurveHeader::text);
                if (header != curve_headers.end()) continue;
                complaints.add_at(place, "the header", "must be \"draw_in,force_lbf\" or \"draw_mm,force_N\"",
                                  fmt::format("\"{}\"", text));
                return {};
            }
            const auto comma = text.find(',');
            const std::string_view all = text;
            const auto draw = number_in(all.substr(0, comma));
            const auto force = comma == std::string::npos ? std::nullopt : number_in(all.substr(comma + 1));
            if (!draw || !force || !std::isfinite(*draw) || !(*force > 0) || !std::isfinite(*force)) {
                complaints.add_at(place, "the row",
                                  "must be a draw length and a force above 0 such as \"24,58.1\"",
                                  fmt::format("\"{}\"", text));
                continue;
            }
            if (!rows.empty() && !(*draw * header->draw > *rows.back().at))
                complaints.add_at(place, "the draw length", "must rise from row to row", text);
            rows.push_back(
                {quantity.key, *draw * header->draw, *force * header->force, 0, number, path.string()});
        }
        if (rows.empty() && !complaints.about(key))
            complaints.add(key, fmt::format("must name a file with rows, but {} has none", path.string()));
        return thinned(std::move(rows));
    }

    void read_sure() {
        TableReader table = top_.table_if_any("bow_sure");
        if (table.present()) sheet_.bow_sure = bow_sure_in(table, bow_);
    }

    Document& document_;
    TableReader top_;
    fs::path file_;
    const Bow& bow_;
    BenchRecord sheet_;
    std::size_t weights_seen_ = 0;
};

}  // namespace

std::map<std::string, double> bow_sure_in(TableReader& table, const Bow& bow) {
    std::map<std::string, double> sure;
    for (const MatchParameter& parameter : match_parameters(bow)) {
        if (!table.has(parameter.key)) continue;
        const Range range{.above = 0};
        if (parameter.relative)
            sure[parameter.key] = 0.01 * table.quantity(parameter.key, percent, range) * parameter.get(bow);
        else if (parameter.dimension)
            sure[parameter.key] = table.quantity(parameter.key, *parameter.dimension, range);
        else
            sure[parameter.key] = table.number(parameter.key, range);
    }
    return sure;
}

std::string bow_sure_text(const std::map<std::string, double>& sure, const Bow& bow) {
    std::vector<std::string> items;
    for (const MatchParameter& parameter : match_parameters(bow)) {
        const auto own = sure.find(parameter.key);
        if (own == sure.end()) continue;
        const std::string value = parameter.relative
                                      ? quantity_text(100 * own->second / parameter.get(bow), percent)
                                  : parameter.dimension ? quantity_text(own->second, *parameter.dimension)
                                                        : number_text(own->second);
        items.push_back(fmt::format("{} = {}", parameter.key, value));
    }
    return fmt::format("{{ {} }}", fmt::join(items, ", "));
}

Measurement rounded(Measurement number, const Dimension& dimension) {
    const double factor = dimension.units.front().factor;
    const double sigma = std::stod(fmt::format("{:.3g}", number.sigma / factor));
    const int digits = sigma > 0 ? std::clamp(2 - static_cast<int>(std::floor(std::log10(sigma))), 0, 9) : 9;
    number.value = std::stod(fmt::format("{:.{}f}", number.value / factor, digits)) * factor;
    number.sigma = sigma * factor;
    return number;
}

std::string bench_form(const Bow& bow, const BenchRecord& known, const std::vector<Measurement>& expected) {
    TomlPage page;
    page.line("", "What was measured on the bow. Take the # from a line and fill it in; leave out what you");
    page.line("",
              "have not measured. Any number may say how sure it is: { is = \"838 mm\", sure = \"1 mm\" }.");
    page.key("name", quoted_text(known.name));
    const auto of = [](const std::vector<Measurement>& all, const BenchQuantity& q) {
        return std::ranges::find(all, q.key, &Measurement::quantity);
    };
    for (const BenchQuantity& q : bench_quantities(bow)) {
        std::string meaning = q.of.measure.definition;
        if (const auto there = of(expected, q); there != expected.end() && !q.at_a_draw)
            meaning =
                fmt::format("expected {} ± {}; {}", shown(rounded(*there, *q.dimension).value, *q.dimension),
                            shown(rounded(*there, *q.dimension).sigma, *q.dimension), meaning);
        if (const auto there = of(known.measurements, q); there != known.measurements.end() && !q.at_a_draw)
            page.key(q.key, quantity_text(there->value, *q.dimension), meaning);
        else if (q.at_a_draw)
            page.line("", fmt::format("{} = [{{ at = \"24 in\", force = \"\" }}]  # {}", q.key, meaning));
        else
            page.line("", fmt::format("{} = \"\"  # {}", q.key, meaning));
    }
    if (!known.bow_sure.empty()) {
        page.line("");
        page.key("bow_sure", bow_sure_text(known.bow_sure, bow), "how sure the bow file's own numbers are");
    }
    return page.text();
}

BenchRecord bench_from_toml(std::string_view text, const fs::path& file, const Bow& bow) {
    Document document(text, file.string());
    return BenchReader(document, file, bow).read();
}

BenchRecord read_bench(const fs::path& file, const Bow& bow) {
    std::ifstream stream(file, std::ios::binary);
    std::error_code ignored;
    if (!stream || fs::is_directory(file, ignored))
        throw InputError({{{file.string()}, {}, "this file cannot be read", {}}});
    return bench_from_toml(std::string(std::istreambuf_iterator<char>(stream), {}), file, bow);
}

}  // namespace limbwright::models
