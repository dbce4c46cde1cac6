#include "postproc/results/study_notes.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <map>

#include "postproc/output/progress.hpp"
#include "postproc/results/ranking_results.hpp"

namespace limbwright::postproc {
namespace {

using models::PlacedMeasure;

std::string with_unit(double value, const PlacedMeasure& column) {
    const std::string& unit = column.measure.unit;
    return fmt::format("{:.2g}{}{}", value, unit.empty() ? "" : " ", unit);
}

/// "cam lean, top, at full draw 1.2e-07 deg; …".
std::string values_text(const std::vector<PlacedMeasure>& columns, const std::vector<double>& values) {
    std::string text;
    for (std::size_t c = 0; c < columns.size(); ++c)
        text += fmt::format("{}{} {}", c == 0 ? "" : "; ", in_words(columns[c]),
                            with_unit(values[c], columns[c]));
    return text;
}

std::string product_note(const models::StudyBase& base) {
    const models::Study& study = base.study();
    const models::Product& product = base.product();
    std::vector<std::string> factors;
    if (!study.limbs.empty())
        factors.push_back(fmt::format("{} distinct pairings (of {} arrangements of the limbs)",
                                      grouped(std::ssize(product.pairings())),
                                      grouped(product.arrangements())));
    if (!study.spacers.empty())
        factors.push_back(fmt::format("{} spacer layouts", grouped(std::ssize(product.spacers()))));
    for (std::size_t i = 0; i < study.ranges.size(); ++i)
        factors.push_back(
            fmt::format("{} values of \"{}\"", product.ranges()[i].size(), study.ranges[i].setting));
    return fmt::format("The study has {} layouts{}{}.", grouped(product.size()), factors.empty() ? "" : ": ",
                       fmt::join(factors, " × "));
}

/// Without figures, causes of one kind are alike.
std::string kind_of(const std::string& cause) {
    std::string kind;
    for (const char c : cause)
        if (!std::isdigit(static_cast<unsigned char>(c)) && c != '-') kind += c;
    return kind;
}

}  // namespace

std::vector<std::string> study_notes(const models::StudyBase& base) {
    return {product_note(base),
            base.study().lengths == models::LengthRule::kept
                ? "String and cables keep today's natural lengths in every layout; twists change them."
                : "String and cables are re-timed in every layout: their lengths change until the bow "
                  "measures at brace what it measures today.",
            fmt::format("At full draw the nocking point is held {:.1f} mm from the pivot point, where "
                        "today's full draw is.",
                        *base.stations().back().draw)};
}

std::vector<std::string> search_notes(const models::StudyBase& base, const models::StudySearch& search) {
    const int keep = base.study().keep;
    if (!search.screening) return {"All layouts were solved."};
    const models::Screening& s = *search.screening;
    std::vector<std::string> notes{
        fmt::format("{} layouts were solved, {} of them candidates for the best {}.",
                    grouped(std::ssize(search.solved)), grouped(std::ssize(s.candidates)), keep)};
    if (!s.modelled) {
        notes.push_back(
            fmt::format("No model was made: of {} layouts tried {} could not be solved.", s.tried, s.failed));
        return notes;
    }
    notes.push_back(fmt::format(
        "{} layouts were bounded out by a model, a polynomial of degree {} with {} terms, fitted to {} "
        "layouts and compared with {} others.",
        grouped(s.bounded_out), s.degree, s.terms, grouped(s.fitted), grouped(s.checked)));
    std::vector<PlacedMeasure> columns;
    for (const std::size_t column : search.columns) columns.push_back(base.columns()[column]);
    notes.push_back("Errors allowed for, twice the largest found: " + values_text(columns, s.errors) + ".");
    if (!s.worst_shares.empty())
        notes.push_back(fmt::format("A candidate that was solved used up at most {:.0f} % of them.",
                                    100 * *std::ranges::max_element(s.worst_shares)));
    if (std::isfinite(s.margin))
        notes.push_back(fmt::format(
            "The best of those bounded out for its score lies at least {:.2g} above the score {:.4g} that {} "
            "solved layouts meet.",
            s.margin, s.threshold, keep));
    return notes;
}

std::vector<std::string> cold_notes(const models::StudyBase& base, const models::ColdCheck& check) {
    if (check.compared.empty()) return {};
    std::vector<std::string> notes{
        fmt::format("{} of the solved layouts {} solved again by the plain engine from cold. Largest "
                    "differences: {}.",
                    check.compared.size(), check.compared.size() == 1 ? "was" : "were",
                    values_text(base.columns(), check.largest))};
    constexpr std::size_t named = 10;
    if (!check.differing.empty()) {
        const std::size_t count = std::min(named, check.differing.size());
        notes.push_back(
            fmt::format("Warning: {} of these differ by more than rounding, do not trust them: layout {}{}.",
                        check.differing.size(),
                        fmt::join(check.differing.begin(),
                                  check.differing.begin() + static_cast<std::ptrdiff_t>(count), ", "),
                        count < check.differing.size() ? ", …" : ""));
    }
    return notes;
}

std::vector<std::string> failure_notes(std::span<const models::LayoutRow> rows) {
    struct Kind {
        std::int64_t count = 0;
        const std::string* example = nullptr;
    };
    std::map<std::string, Kind> found;
    std::int64_t failed = 0;
    for (const models::LayoutRow& row : rows) {
        if (row.failure.empty()) continue;
        ++failed;
        Kind& kind = found[kind_of(row.failure)];
        if (kind.count++ == 0) kind.example = &row.failure;
    }
    if (failed == 0) return {};
    std::vector<Kind> kinds;
    for (const auto& [text, kind] : found) kinds.push_back(kind);
    std::ranges::stable_sort(kinds, std::greater<>(), &Kind::count);
    constexpr std::size_t shown = 3;
    std::vector<std::string> notes;
    for (std::size_t i = 0; i < std::min(shown, kinds.size()); ++i)
        notes.push_back(fmt::format("{} of {} layouts that could not be solved, for instance: {}",
                                    grouped(kinds[i].count), grouped(failed), *kinds[i].example));
    return notes;
}

}  // namespace limbwright::postproc
