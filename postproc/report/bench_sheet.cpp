#include "postproc/report/bench_sheet.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <tuple>

#include "postproc/report/setup_diagram.hpp"

namespace limbwright::postproc {
namespace {

using models::CureMeasure;
using models::Step;

constexpr double margin = 36;  // px, what printers leave white and a little more
constexpr std::size_t many_steps = 16, most_worse = 6;
constexpr double largest = 11.5, smallest = 6.5 / 0.75, shrink = 0.97;

constexpr const char* cautions[] = {
    "The maker's manual and a qualified technician come first; this sheet is a calculation and no "
    "permission.",
    "Use a bow press made for this bow. String, cables and limbs are under load until the press holds them.",
    "Never dry-fire. Never set limb bolts or load limbs beyond the maker's limits; never mix limbs beyond "
    "what "
    "the maker allows.",
    "Before the first arrow: string and cables in their grooves, axle clips on, spacers seated, cams clear "
    "of "
    "the limbs; draw slowly, with an arrow, toward a backstop.",
};

/// What is measured after the rebuild, in the order of a bench.
constexpr const char* to_measure[] = {
    "axle-to-axle",
    "brace height",
    "nocking-point height",
    "straightedge gap, top",
    "straightedge gap, bottom",
    "cam lean, top, at brace",
    "cam lean, bottom, at brace",
    "peak weight",
    "holding weight",
    "cam lean, top, at full draw",
    "cam lean, bottom, at full draw",
    "nock travel, lateral, at full draw",
    "timing, at full draw",
    "clearance, smallest",
};

const CureMeasure* find(const models::Cure& cure, std::string_view name) {
    const auto found = std::ranges::find(cure.measures, name, &CureMeasure::name);
    return found == cure.measures.end() ? nullptr : &*found;
}

std::string side_word(const models::Wanted& wanted, const models::Vec2& turn) {
    std::vector<std::string> parts;
    if (wanted.directions.x() != 0)
        parts.push_back(fmt::format("{:.2f} deg {}", std::abs(turn.x()), turn.x() > 0 ? "left" : "right"));
    if (wanted.directions.y() != 0)
        parts.push_back(fmt::format("{:.2f} deg {}", std::abs(turn.y()), turn.y() > 0 ? "high" : "low"));
    return fmt::format("{}", fmt::join(parts, " and "));
}

std::string tear_text(const BenchSheet& sheet) {
    std::string text = "Tear: " + to_text(sheet.tear);
    if (sheet.tear.distance > 0) text += fmt::format(", at {:.3g} m", sheet.tear.distance / 1000);
    text += fmt::format(". The model's string turns the tail {} from full draw to brace",
                        side_word(sheet.wanted, sheet.wanted.turn));
    const models::Cure& cure = sheet.cure;
    const std::string share =
        fmt::format("{:.0f}{} %", 100 * cure.answered,
                    cure.answered_sigma ? fmt::format(" ± {:.0f}", 100 * *cure.answered_sigma) : "");
    text += sheet.wanted.seen
                ? fmt::format("; the change takes away {} of it. ", share)
                : fmt::format(
                      ", which does not explain this tear; the change turns it against the tear by {} of the "
                      "tear's angle. ",
                      share);
    for (const auto& [name, turn, counts] :
         {std::tuple("end slope, lateral", sheet.wanted.turn.x(), sheet.wanted.directions.x()),
          std::tuple("end slope, vertical", sheet.wanted.turn.y(), sheet.wanted.directions.y())})
        if (const CureMeasure* slope = find(sheet.cure, name);
            counts != 0 && slope && slope->before * turn < 0)
            text += fmt::format("Just before it leaves, the tail heads the other way, by {:.2f} deg. ",
                                std::abs(slope->before));
    return text + "Release, hand, arrow and rest can tear paper too; the model does not see them.";
}

/// Lays out at one size of text; the page may turn out too long.
class Layouter {
public:
    Layouter(const BenchSheet& sheet, double size)
        : sheet_(sheet), page_(Page::a4()), size_(size), width_(page_.width() - 2 * margin) {}

    /// @return  y below everything
    double lay_out() {
        heading();
        tunes();
        steps();
        measurements();
        worse();
        warn();
        return y_;
    }
    Page page() { return std::move(page_); }

private:
    void heading() {
        page_.text({margin, y_ + 1.6 * size_}, title_of(sheet_), {svg::Anchor::start, 1.6 * size_, true});
        y_ += 2.4 * size_;
        y_ = page_.paragraph(margin, y_, width_, "Change: " + sheet_.cure.text + ".",
                             {svg::Anchor::start, 1.15 * size_, true});
        y_ =
            page_.paragraph(margin, y_ + 0.2 * size_, width_, tear_text(sheet_), {svg::Anchor::start, size_});
        y_ += 0.6 * size_;
        page_.text({margin, y_ + 1.1 * size_}, "Date", {svg::Anchor::start, size_});
        page_.text({margin + 0.3 * width_, y_ + 1.1 * size_}, "Done by", {svg::Anchor::start, size_});
        page_.text({margin + 0.68 * width_, y_ + 1.1 * size_}, "Checked by", {svg::Anchor::start, size_});
        blank(margin + 4 * size_, margin + 0.27 * width_);
        blank(margin + 0.3 * width_ + 6 * size_, margin + 0.65 * width_);
        blank(margin + 0.68 * width_ + 8 * size_, margin + width_);
        y_ += 1.6 * size_;
    }

    /// A line to write on, at the height of the text beside it.
    void blank(double from, double to) { page_.line({from, y_ + 1.3 * size_}, {to, y_ + 1.3 * size_}, 0.7); }

    void section(std::string_view title) {
        y_ += 0.7 * size_;
        page_.line({margin, y_}, {margin + width_, y_}, 1);
        page_.text({margin, y_ + 1.4 * size_}, title, {svg::Anchor::start, 1.1 * size_, true});
        y_ += 1.9 * size_;
    }

    void tunes() {
        section(
            "The bow as the archer sees it: limbs with their numbers, spacers left and right of each cam");
        const double half = (width_ - 24) / 2;
        const double today =
            draw_tune(page_, {{margin, y_}, half, size_}, sheet_.bow, sheet_.today, sheet_.today, "Today");
        const double then = draw_tune(page_, {{margin + half + 24, y_}, half, size_}, sheet_.bow,
                                      sheet_.cure.layout, sheet_.today, "Afterwards (changes in bold)");
        y_ = std::max(today, then);
    }

    /// In two columns, or three if they are many, down the left one first.
    void steps() {
        section("Steps, in this order");
        const std::vector<Step> all =
            models::bench_steps(sheet_.bow, sheet_.today, sheet_.cure.layout, sheet_.cure.lengths);
        const int columns = all.size() > many_steps ? 3 : 2;
        const double between = 18, column = (width_ - (columns - 1) * between) / columns, indent = 4 * size_;
        double total = 0;
        std::vector<double> heights;
        for (const Step& step : all) {
            heights.push_back(line_height * size_ *
                                  static_cast<double>(wrapped(step.text, column - indent, size_).size()) +
                              0.25 * size_);
            total += heights.back();
        }
        double left = margin, y = y_, lowest = y_, used = 0;
        int filled = 1;
        for (std::size_t i = 0; i < all.size(); ++i) {
            if (used >= filled * total / columns) {
                left += column + between;
                y = y_;
                ++filled;
            }
            page_.rectangle({left, y + 0.3 * size_}, {0.9 * size_, 0.9 * size_}, "#ffffff");
            page_.text({left + 3.4 * size_, y + size_}, fmt::format("{}.", i + 1),
                       {svg::Anchor::end, size_, true});
            page_.paragraph(left + indent, y, column - indent, all[i].text, {svg::Anchor::start, size_});
            y += heights[i];
            used += heights[i];
            lowest = std::max(lowest, y);
        }
        y_ = lowest;
    }

    void measurements() {
        section(sheet_.cure.answered_sigma
                    ? "Restore and measure (±: one standard deviation, as far as measurements tell the bow)"
                    : "Restore and measure (model's values: as good as the bow file)");
        const double today = 0.45 * width_, expected = 0.64 * width_, before = 0.68 * width_,
                     after = 0.85 * width_;
        const auto head = [&](double x, const char* text, svg::Anchor anchor) {
            page_.text({margin + x, y_ + size_}, text, {anchor, size_, true});
        };
        head(today, "today", svg::Anchor::end);
        head(expected, "expected", svg::Anchor::end);
        head(before, "measured before", svg::Anchor::start);
        head(after, "measured after", svg::Anchor::start);
        y_ += 1.38 * size_;
        const auto row = [&](const std::string& name, const std::string& now, const std::string& then) {
            page_.text({margin, y_ + size_}, name, {svg::Anchor::start, size_});
            page_.text({margin + today, y_ + size_}, now, {svg::Anchor::end, size_});
            page_.text({margin + expected, y_ + size_}, then, {svg::Anchor::end, size_});
            blank(margin + before, margin + after - 12);
            blank(margin + after, margin + width_);
            y_ += 1.38 * size_;
        };
        for (const char* name : to_measure)
            if (const CureMeasure* m = find(sheet_.cure, name)) {
                // A zero that rounding leaves has no sign.
                const auto shown = [&](double v) {
                    const std::string text = fmt::format("{:.{}f}", v, m->digits);
                    return std::stod(text) == 0 ? fmt::format("{:.{}f}", 0.0, m->digits) : text;
                };
                row(fmt::format("{} [{}]", m->name, m->unit), shown(m->before),
                    shown(m->after) +
                        (m->after_sigma ? fmt::format(" ± {:.{}f}", *m->after_sigma, m->digits) : ""));
            }
        row("paper tear, bare shaft: side and size [mm]", fmt::format("{:.3g}", sheet_.tear.size()), "less");
        if (!sheet_.enter.empty())
            y_ = page_.paragraph(margin, y_ + 0.2 * size_, width_,
                                 "Enter it, with your own tear or --tail none: " + sheet_.enter,
                                 {svg::Anchor::start, size_});
    }

    void worse() {
        std::vector<std::string> texts;
        for (const CureMeasure& m : sheet_.cure.measures)
            if (m.worse()) texts.push_back(to_text(m));
        std::string text = "Nothing that the model watches gets worse.";
        if (!texts.empty()) {
            const std::size_t more = texts.size() - std::min(texts.size(), most_worse);
            texts.resize(texts.size() - more);
            text = fmt::format("What gets worse: {}{}.", fmt::join(texts, "; "),
                               more > 0 ? fmt::format("; and {} more", more) : "");
        }
        y_ = page_.paragraph(margin, y_ + 0.6 * size_, width_, text, {svg::Anchor::start, size_});
    }

    void warn() {
        section("Cautions");
        for (const char* caution : cautions) {
            page_.text({margin, y_ + size_}, "!", {svg::Anchor::start, size_, true});
            y_ = page_.paragraph(margin + 1.4 * size_, y_, width_ - 1.4 * size_, caution,
                                 {svg::Anchor::start, size_});
        }
    }

    const BenchSheet& sheet_;
    Page page_;
    double size_, width_, y_ = margin;
};

}  // namespace

std::string title_of(const BenchSheet& sheet) {
    return "Bench sheet: " + sheet.bow.name;
}

Page lay_out(const BenchSheet& sheet) {
    for (double size = largest; size >= smallest; size *= shrink) {
        Layouter layouter(sheet, size);
        if (layouter.lay_out() <= Page::a4().height() - margin) return layouter.page();
    }
    throw std::length_error("the bench sheet does not fit on a page: its change has too many steps");
}

}  // namespace limbwright::postproc
