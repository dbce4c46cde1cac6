#include "models/study/study_file.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <iterator>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "models/bow/bow_file.hpp"
#include "models/input/document.hpp"
#include "models/input/table_reader.hpp"
#include "models/states/measure_names.hpp"
#include "models/study/design_space.hpp"
#include "models/study/study_checks.hpp"
#include "models/study/study_enum_names.hpp"

namespace limbwright::models {
namespace {

namespace fs = std::filesystem;

constexpr int most_spacers = 100;     // of one thickness
constexpr double most_values = 1000;  // of one range

std::string in_quotes(const std::string& text) {
    return fmt::format("\"{}\"", text);
}

std::string listed(std::vector<std::string> names) {
    for (std::string& name : names) name = in_quotes(name);
    return fmt::format("{}", fmt::join(names, ", "));
}

/// Reads the study part by part. What needs the bow is silent where the bow could not be read.
class StudyReader {
public:
    StudyReader(Document& document, fs::path file)
        : document_(document), top_(document), file_(std::move(file)) {}

    StudyFile read() {
        StudyFile result;
        Study& study = result.study;
        study.name = top_.text_or("name", file_.stem().string());
        result.bow_file = read_bow_file();
        if (top_.has("lengths")) study.lengths = read_lengths();
        study.states = top_.whole_number_or("states", study.states, 3, 1000);
        study.keep = top_.whole_number_or("keep", study.keep, 1, 10000);
        study.drawn = top_.whole_number_or("drawn", study.drawn, 0, 100);
        study.solve_all = top_.whole_number_or("solve_all", study.solve_all, 0, 1'000'000'000);
        if (TableReader limbs = top_.table_if_any("limbs"); limbs.present()) study.limbs = read_limbs(limbs);
        if (top_.has("spacers")) study.spacers = read_spacers();
        if (top_.has("range"))
            for (TableReader& range : top_.tables("range")) study.ranges.push_back(read_range(range, study));
        read_aims(study);
        if (top_.has("limit"))
            for (TableReader& limit : top_.tables("limit")) study.limits.push_back(read_limit(limit));
        document_.complain_about_unknown_keys();
        if (bow_) check(study, *bow_, document_.complaints());
        document_.complaints().finish();
        result.bow = std::move(*bow_);
        return result;
    }

private:
    fs::path read_bow_file() {
        const std::string name = top_.text("bow");
        const fs::path bow_file = file_.parent_path() / name;
        if (document_.complaints().about("bow")) return bow_file;
        std::error_code ignored;
        if (!std::ifstream(bow_file) || fs::is_directory(bow_file, ignored)) {
            top_.complain(
                "bow", "must name a bow file beside this one, but " + bow_file.string() + " cannot be read");
            return bow_file;
        }
        try {
            bow_ = read_bow(bow_file);
        } catch (const InputError& error) {
            for (const Complaint& c : error.complaints())
                document_.complaints().add_at(c.place, c.key, c.wanted, c.found);
            return bow_file;
        }
        settings_ = settings_of(*bow_);
        measures_ = measure_names(*bow_);
        return bow_file;
    }

    LengthRule read_lengths() {
        const auto rule = top_.choice<LengthRule>("lengths", length_rule_names);
        if (rule == LengthRule::re_timed && bow_ && bow_->brace.axle_to_axle == 0)
            top_.complain("lengths",
                          "must be \"kept\": lengths are re-timed until what was measured at brace is met "
                          "again, and the bow's file has natural lengths only, no [brace]",
                          "\"re-timed\"");
        return rule;
    }

    std::vector<double> read_limbs(TableReader& table) {
        if (!table.has("numbers")) {
            table.complain("numbers", "is missing; it must be a list such as [51, 49, 50, 50]");
            return {};
        }
        const toml::array* list = document_.table()["limbs"]["numbers"].as_array();
        const std::vector<double> numbers = table.numbers_or("numbers", {}, list ? list->size() : 0);
        for (std::size_t i = 0; i < numbers.size(); ++i)
            if (numbers[i] <= 0)
                table.complain(fmt::format("numbers[{}]", i), "must be above 0",
                               fmt::format("{:.6g}", numbers[i]));
        if (list && list->empty()) table.complain("numbers", "must hold the limbs in hand", "a list of 0");
        return numbers;
    }

    std::vector<SpacerKind> read_spacers() {
        std::vector<SpacerKind> box;
        for (TableReader& table : top_.tables("spacers")) {
            const double thickness =
                table.quantity("thickness", units::length, {.at_least = 0.1, .at_most = 60});
            if (table.present() && !table.has("count"))
                table.complain("count", "is missing; it must be a whole number");
            const int count = table.whole_number_or("count", 0, 1, most_spacers);
            for (const SpacerKind& other : box)
                if (std::abs(other.thickness - thickness) < 1e-6)  // inches and millimetres of one thickness
                    table.complain("thickness", "must differ from those before it: count alike ones together",
                                   shown(thickness, units::length));
            box.push_back({thickness, count});
        }
        if (box.empty() && !document_.complaints().about("spacers"))
            top_.complain("spacers", "must hold the spacers in hand", "a list of 0");
        return box;
    }

    SettingRange read_range(TableReader& table, const Study& before) {
        SettingRange range{table.text("setting"), {}};
        // Without the setting their unit is not known, so they may stay unread; they are known keys, though.
        for (const char* key : {"from", "to", "step"}) (void)table.has(key);
        if (!bow_ || !table.present() || document_.complaints().about(table.path_of("setting"))) return range;
        const auto setting = std::ranges::find(settings_, range.setting, &Setting::name);
        if (setting == settings_.end()) {
            std::vector<std::string> names;
            for (const Setting& one : settings_) names.push_back(one.name);
            table.complain("setting", "must be one of " + listed(std::move(names)), in_quotes(range.setting));
            return range;
        }
        if (setting->work >= Work::spacers)
            table.complain("setting",
                           "must not be one that limbs and spacers in hand decide: list those in [limbs] "
                           "and [[spacers]]",
                           in_quotes(range.setting));
        if (std::ranges::find(before.ranges, range.setting, &SettingRange::setting) != before.ranges.end())
            table.complain("setting", "must not be ranged over twice", in_quotes(range.setting));
        read_steps(table, *setting, range.steps);
        return range;
    }

    void read_steps(TableReader& table, const Setting& setting, Steps& steps) {
        const auto read = [&](const char* key, Range allowed) {
            return setting.dimension ? table.quantity(key, *setting.dimension, allowed)
                                     : table.number(key, allowed);
        };
        const auto written_out = [&](double value) {
            return setting.dimension ? shown(value, *setting.dimension) : fmt::format("{:.6g}", value);
        };
        steps = {read("from", {}), read("to", {}), read("step", {.above = 0})};
        if (std::isnan(steps.from) || std::isnan(steps.to)) return;
        if (steps.from < setting.least)
            table.complain("from",
                           fmt::format("must not be below {}, the seat of the {}", written_out(setting.least),
                                       setting.part),
                           written_out(steps.from));
        if (steps.from > steps.to)
            table.complain("to", fmt::format("must not be below `from`, {}", written_out(steps.from)),
                           written_out(steps.to));
        else if (!std::isnan(steps.step) && count_of(steps) > most_values)
            table.complain("step", fmt::format("must make at most {} values, but makes {:.6g}", most_values,
                                               count_of(steps)));
    }

    /// Reads `measure`, `less` and `at`.
    void read_quantity(TableReader& table, Quantity& quantity) {
        quantity.measure = table.text("measure");
        quantity.less = table.text_or("less", {});
        quantity.at = table.has("at") ? table.choice<DrawPlace>("at", place_names) : DrawPlace::whole;
        if (!bow_ || !table.present()) return;
        const bool whole = quantity.at == DrawPlace::whole;
        const std::vector<MeasureName>& here = whole ? measures_.draw : measures_.states;
        const std::vector<MeasureName>& elsewhere = whole ? measures_.states : measures_.draw;
        const auto unit_of = [&](const char* key, const std::string& name) -> std::string {
            if (name.empty() || document_.complaints().about(table.path_of(key))) return {};
            if (const MeasureName* measure = find(here, name)) return measure->unit;
            if (find(elsewhere, name))
                table.complain(key,
                               whole
                                   ? "must come with `at`, \"brace\", \"peak\" or \"full draw\", because it "
                                     "differs from state to state"
                                   : "must come without `at`, because it belongs to the draw as a whole",
                               in_quotes(name));
            else
                table.complain(key,
                               "must name a measure; the nearest are " + listed(nearest(measures_, name)),
                               in_quotes(name));
            return {};
        };
        const std::string unit = unit_of("measure", quantity.measure);
        const std::string less_unit = unit_of("less", quantity.less);
        if (!unit.empty() && !less_unit.empty() && unit != less_unit)
            table.complain("less", fmt::format("must have the unit of `measure`, {}", unit),
                           fmt::format("in {}", less_unit));
    }

    void read_aims(Study& study) {
        std::vector<TableReader> tables = top_.tables("aim");
        for (TableReader& table : tables) study.aims.push_back(read_aim(table));
        if (tables.empty() && !document_.complaints().about("aim"))
            top_.complain("aim", "must hold at least one aim", "a list of 0");
    }

    Aim read_aim(TableReader& table) {
        Aim aim;
        read_quantity(table, aim.quantity);
        aim.wish = table.choice<Wish>("want", wish_names);
        const bool wish_known = table.has("want") && !document_.complaints().about(table.path_of("want"));
        if (aim.wish == Wish::target && wish_known) {
            aim.target = table.number("target");
        } else if (wish_known) {
            for (const char* key : {"target", "within"})
                if (table.has(key)) table.complain(key, "must only stand with want = \"target\"");
        }
        if (!wish_known) (void)table.has("target");
        aim.within = table.number_or("within", 0, {.at_least = 0});
        aim.weight = table.number_or("weight", 1, {.above = 0});
        return aim;
    }

    Limit read_limit(TableReader& table) {
        Limit limit;
        read_quantity(table, limit.quantity);
        limit.at_least = table.number_or("at_least", limit.at_least);
        limit.at_most = table.number_or("at_most", limit.at_most);
        if (table.present() && !table.has("at_least") && !table.has("at_most"))
            table.complain("at_least", "is missing, and so is at_most; one of them must be a plain number");
        if (limit.at_least > limit.at_most)
            table.complain("at_most", fmt::format("must not be below at_least, {:.6g}", limit.at_least),
                           fmt::format("{:.6g}", limit.at_most));
        return limit;
    }

    Document& document_;
    TableReader top_;
    fs::path file_;
    std::optional<Bow> bow_;
    std::vector<Setting> settings_;
    MeasureNames measures_;
};

}  // namespace

StudyFile study_from_toml(std::string_view text, const fs::path& file) {
    Document document(text, file.string());
    return StudyReader(document, file).read();
}

StudyFile read_study(const fs::path& file) {
    std::ifstream stream(file, std::ios::binary);
    std::error_code ignored;
    if (!stream || fs::is_directory(file, ignored))
        throw InputError({{{file.string()}, {}, "this file cannot be read", {}}});
    return study_from_toml(std::string(std::istreambuf_iterator<char>(stream), {}), file);
}

}  // namespace limbwright::models
