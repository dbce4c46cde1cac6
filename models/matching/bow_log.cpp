#include "models/matching/bow_log.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <chrono>
#include <fstream>
#include <iterator>
#include <regex>
#include <set>

#include "models/bow/settings.hpp"
#include "models/bow/toml_page.hpp"
#include "models/input/document.hpp"
#include "models/input/table_reader.hpp"

namespace limbwright::models {
namespace {

namespace fs = std::filesystem;

std::string pair_text(const std::array<double, 2>& values) {
    return fmt::format("[{}, {}]", number_text(values[0]), number_text(values[1]));
}

std::string stacks_text(const SpacerStacks& stacks) {
    return fmt::format("{{ left = {}, right = {} }}", lengths_text(stacks.left), lengths_text(stacks.right));
}

void write_layout(const Layout& l, const Bow& bow, TomlPage& page) {
    const Pairing& p = l.pairing;
    page.key("limbs", fmt::format("{{ top_left = {}, top_right = {}, bottom_left = {}, bottom_right = {} }}",
                                  number_text(p.top_left), number_text(p.top_right),
                                  number_text(p.bottom_left), number_text(p.bottom_right)));
    page.key("spacers_top", stacks_text(l.spacers_top));
    page.key("spacers_bottom", stacks_text(l.spacers_bottom));
    page.key("guide_lateral", length_text(l.guide_lateral));
    page.key("guide_angle", angle_text(l.guide_angle));
    page.key("bolts", pair_text({l.bolt_top, l.bolt_bottom}), "turns out, top and bottom");
    page.key("twist_string", number_text(l.twist_string));
    page.key("twist_cables", pair_text(l.twist_cables));
    page.key("twist_yoke_left", pair_text(l.twist_yoke_left));
    page.key("twist_yoke_right", pair_text(l.twist_yoke_right));
    const auto moved = [&](const char* key) { return l.moved.contains(key) ? l.moved.at(key) : 0; };
    page.key("rest_moved", lengths_text({moved("rest_lateral"), moved("rest_height")}),
             "from the bow file's: left and up");
    page.key("nocking_point_moved", length_text(l.nocking_point), "up");
    for (const Setting& setting : settings_of(bow))
        if (setting.in_bow && setting.work != Work::rest && setting.get(l) != 0)
            page.key(setting.key + "_moved", setting.dimension
                                                 ? quantity_text(setting.get(l), *setting.dimension)
                                                 : number_text(setting.get(l)));
}

void write_numbers(std::string_view name, const std::vector<Measurement>& numbers, const Bow& bow,
                   TomlPage& page) {
    const std::vector<BenchQuantity> quantities = bench_quantities(bow);
    page.line(fmt::format("{} = [", name));
    for (const Measurement& m : numbers) {
        const Dimension& dimension = *find(quantities, m.quantity)->dimension;
        page.line(fmt::format("    {{ quantity = {}, {}is = {}, sure = {} }},", quoted_text(m.quantity),
                              m.at ? "at = " + length_text(*m.at) + ", " : "",
                              quantity_text(m.value, dimension), quantity_text(m.sigma, dimension)));
    }
    page.line("]");
}

class LogReader {
public:
    LogReader(Document& document, const Bow& bow)
        : document_(document), bow_(bow), quantities_(bench_quantities(bow)) {}

    std::vector<LogEntry> read() {
        TableReader top(document_);
        std::vector<LogEntry> log;
        if (top.has("entry"))
            for (TableReader& table : top.tables("entry")) {
                const toml::array* all = document_.table()["entry"].as_array();
                place_ = log.size();
                log.push_back(entry(table));
                log.back().file = document_.file();
                if (place_ < all->size())
                    log.back().line = static_cast<int>((*all)[place_].source().begin.line);
            }
        document_.complain_about_unknown_keys();
        document_.complaints().finish();
        std::vector<LogEntry> once;
        std::set<std::string> seen;
        for (LogEntry& made : log)
            if (seen.insert(to_toml(made, bow_)).second) once.push_back(std::move(made));
        std::ranges::stable_sort(once, {}, &LogEntry::date);
        return once;
    }

private:
    LogEntry entry(TableReader& table) {
        LogEntry made;
        made.date = table.text("date");
        if (!made.date.empty() && !is_date(made.date))
            table.complain("date", "must be a date such as \"2026-11-25\" or \"2026-11-25 18:40\"",
                           fmt::format("\"{}\"", made.date));
        made.layout = layout(table);
        made.remark = table.text_or("remark", "");
        if (table.has("measured")) made.measured = numbers(table, "measured");
        if (TableReader sure = table.table_if_any("bow_sure"); sure.present())
            made.bow_sure = bow_sure_in(sure, bow_);
        if (TableReader tear = table.table_if_any("tear"); tear.present()) {
            made.tear.emplace();
            made.tear->hand = bow_.shooter.hand;
            made.tear->left = tear.quantity("left", units::length, {.at_least = -300, .at_most = 300});
            made.tear->high = tear.quantity("high", units::length, {.at_least = -300, .at_most = 300});
        }
        if (TableReader plan = table.table_if_any("plan"); plan.present()) {
            made.plan.emplace();
            made.plan->change = plan.text("change");
            made.plan->answered = plan.number("answered");
            made.plan->sure = plan.number("sure", {.at_least = 0});
            made.plan->predicted = numbers(plan, "predicted");
        }
        return made;
    }

    Layout layout(TableReader& table) {
        const Range length{.at_least = -100, .at_most = 100}, count{.at_least = -100, .at_most = 100};
        Layout l = bow_.layout;
        TableReader limbs = table.table("limbs");
        for (auto [key, number] :
             {std::pair("top_left", &l.pairing.top_left), std::pair("top_right", &l.pairing.top_right),
              std::pair("bottom_left", &l.pairing.bottom_left),
              std::pair("bottom_right", &l.pairing.bottom_right)})
            *number = limbs.number(key, {.above = 0, .at_most = 1000});
        for (auto [key, stacks] :
             {std::pair("spacers_top", &l.spacers_top), std::pair("spacers_bottom", &l.spacers_bottom)}) {
            TableReader sides = table.table(key);
            stacks->left = sides.quantities("left", units::length, {.above = 0, .at_most = 100});
            stacks->right = sides.quantities("right", units::length, {.above = 0, .at_most = 100});
        }
        l.guide_lateral = table.quantity_or("guide_lateral", 0, units::length, length);
        l.guide_angle = table.quantity_or("guide_angle", 0, units::angle, {.at_least = -2, .at_most = 2});
        const auto two = [&](const char* key) {
            const std::vector<double> values = table.numbers_or(key, {0, 0}, 2);
            return values.size() == 2 ? std::array{values[0], values[1]} : std::array{0.0, 0.0};
        };
        const std::array bolts = two("bolts");
        l.bolt_top = bolts[0];
        l.bolt_bottom = bolts[1];
        l.twist_string = table.number_or("twist_string", 0, count);
        l.twist_cables = two("twist_cables");
        l.twist_yoke_left = two("twist_yoke_left");
        l.twist_yoke_right = two("twist_yoke_right");
        if (table.has("rest_moved")) {
            const solver::Vec2 moved = table.plane_point("rest_moved", length);
            l.moved = {{"rest_lateral", moved.x()}, {"rest_height", moved.y()}};
        }
        l.nocking_point = table.quantity_or("nocking_point_moved", 0, units::length, length);
        for (const Setting& setting : settings_of(bow_))
            if (const std::string key = setting.key + "_moved"; setting.in_bow && table.has(key))
                setting.set(l, setting.dimension ? table.quantity(key, *setting.dimension, {})
                                                 : table.number(key, {}));
        return l;
    }

    /// Numbers of the bench, as measured or as predicted.
    std::vector<Measurement> numbers(TableReader& table, const char* key) {
        std::vector<Measurement> all;
        for (TableReader& row : table.tables(key)) {
            Measurement m;
            m.quantity = row.text("quantity");
            const BenchQuantity* quantity = find(quantities_, m.quantity);
            if (!quantity) {
                if (!m.quantity.empty())
                    row.complain("quantity", "must be a measurement of this bow, as in bench files",
                                 fmt::format("\"{}\"", m.quantity));
                for (const char* rest : {"is", "sure", "at"}) (void)row.has(rest);
                continue;
            }
            m.value = row.quantity("is", *quantity->dimension);
            m.sigma = row.quantity("sure", *quantity->dimension, {.above = 0});
            if (quantity->at_a_draw)
                m.at = row.quantity("at", units::length, {.at_least = 100, .at_most = 1500});
            m.file = document_.file();
            const toml::node* list = document_.table()["entry"][place_][key].node();
            if (const toml::array* rows = list ? list->as_array() : nullptr;
                rows && all.size() < rows->size())
                m.line = static_cast<int>((*rows)[all.size()].source().begin.line);
            all.push_back(std::move(m));
        }
        return all;
    }

    Document& document_;
    const Bow& bow_;
    std::vector<BenchQuantity> quantities_;
    std::size_t place_ = 0;  ///< of the entry that is read
};

}  // namespace

bool is_date(std::string_view text) {
    static const std::regex pattern(R"((\d{4})-(\d\d)-(\d\d)( ([01]\d|2[0-3]):[0-5]\d)?)");
    const std::string all(text);
    std::smatch parts;
    if (!std::regex_match(all, parts, pattern)) return false;
    using namespace std::chrono;
    return year_month_day(year(std::stoi(parts[1])), month(static_cast<unsigned>(std::stoi(parts[2]))),
                          day(static_cast<unsigned>(std::stoi(parts[3]))))
        .ok();
}

std::string to_toml(const LogEntry& entry, const Bow& bow) {
    TomlPage page;
    page.line("");
    page.line("[[entry]]", entry.plan ? "planned" : "measured");
    page.key("date", quoted_text(entry.date));
    if (!entry.remark.empty()) page.key("remark", quoted_text(entry.remark));
    write_layout(entry.layout, bow, page);
    if (!entry.measured.empty()) write_numbers("measured", entry.measured, bow, page);
    if (!entry.bow_sure.empty()) page.key("bow_sure", bow_sure_text(entry.bow_sure, bow));
    if (entry.tear)
        page.key("tear",
                 fmt::format("{{ left = {}, high = {} }}", length_text(entry.tear->left),
                             length_text(entry.tear->high)),
                 "of the nock's end from the point's hole");
    if (entry.plan) {
        page.line("[entry.plan]");
        page.key("change", quoted_text(entry.plan->change));
        page.key("answered", number_text(entry.plan->answered), "share of the tear");
        page.key("sure", number_text(entry.plan->sure), "one standard deviation of it");
        write_numbers("predicted", entry.plan->predicted, bow, page);
    }
    return page.text();
}

std::vector<LogEntry> log_from_toml(std::string_view text, const std::string& file, const Bow& bow) {
    Document document(text, file);
    return LogReader(document, bow).read();
}

std::vector<LogEntry> read_log(const fs::path& file, const Bow& bow) {
    std::ifstream stream(file, std::ios::binary);
    std::error_code ignored;
    if (!stream || fs::is_directory(file, ignored))
        throw InputError({{{file.string()}, {}, "this file cannot be read", {}}});
    return log_from_toml(std::string(std::istreambuf_iterator<char>(stream), {}), file.string(), bow);
}

Layout layout_after(const std::vector<LogEntry>& log, const Bow& bow) {
    return log.empty() ? bow.layout : log.back().layout;
}

bool same_layout(const Bow& bow, const Layout& a, const Layout& b) {
    constexpr double rounding = 1e-9;
    const auto alike = [](double x, double y) { return std::abs(x - y) < rounding; };
    const auto stacks = [&](const SpacerStacks& x, const SpacerStacks& y) {
        return std::ranges::equal(x.left, y.left, alike) && std::ranges::equal(x.right, y.right, alike);
    };
    return stacks(a.spacers_top, b.spacers_top) && stacks(a.spacers_bottom, b.spacers_bottom) &&
           std::ranges::all_of(settings_of(bow), [&](const Setting& s) { return alike(s.get(a), s.get(b)); });
}

std::vector<BenchDay> days_of(const std::vector<LogEntry>& log, const Bow& bow) {
    std::vector<BenchDay> days;
    for (const LogEntry& entry : log) {
        if (entry.plan) continue;
        if (days.empty() || !same_layout(bow, days.back().layout, entry.layout))
            days.push_back({entry.date, entry.layout, {entry.date, {}, {}}});
        std::vector<Measurement>& all = days.back().sheet.measurements;
        all.insert(all.end(), entry.measured.begin(), entry.measured.end());
        for (const auto& [key, sigma] : entry.bow_sure) days.back().sheet.bow_sure[key] = sigma;
    }
    return days;
}

}  // namespace limbwright::models
