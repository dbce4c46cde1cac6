#include "postproc/report/setup_diagram.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <cmath>

#include "models/bow/settings.hpp"
#include "models/bow/sides.hpp"
#include "models/bow/spacers.hpp"
#include "models/input/units.hpp"

namespace limbwright::postproc {
namespace {

using models::Bow;
using models::End;
using models::Layout;
using models::SpacerStacks;

constexpr double plain_line = 1, thick_line = 2.6;
constexpr const char *limb_fill = "#e8e8e8", *cam_fill = "#c4c4c4", *spacer_fill = "#ffffff";

/// "1.5 + 2.5 mm"; many spacers as their sum.
std::string stack_text(const std::vector<double>& stack) {
    if (stack.empty()) return "no spacer";
    std::vector<std::string> sizes;
    double sum = 0;
    for (const double s : stack) {
        sizes.push_back(fmt::format("{:.4g}", s));
        sum += s;
    }
    if (sizes.size() > 3) return fmt::format("{} spacers, {:.4g} mm", sizes.size(), sum);
    return fmt::format("{} mm", fmt::join(sizes, " + "));
}

std::string aside(double left, const char* positive, const char* negative, const char* unit) {
    if (!models::differ(left, 0)) return fmt::format("0 {}", unit);
    return fmt::format("{:.3g} {} {}", std::abs(left), unit, left > 0 ? positive : negative);
}

/// What keys and twists set, a line each, and whether it differs from today's.
struct Line {
    std::string text;
    bool changed = false;
};
std::vector<Line> lines_of(const Bow& bow, const Layout& tune, const Layout& today) {
    const Layout &l = tune, &old = today;
    std::vector<Line> lines;
    if (bow.guide.kind != models::GuideKind::none)
        lines.push_back(
            {fmt::format("guide {}, turned {:.3g} deg", aside(l.guide_lateral, "left", "right", "mm"),
                         l.guide_angle / models::units::degree),
             models::differ(l.guide_lateral, old.guide_lateral) ||
                 models::differ(l.guide_angle, old.guide_angle)});
    lines.push_back(
        {fmt::format("limb bolts out: top {:.3g}, bottom {:.3g} turns", l.bolt_top, l.bolt_bottom),
         models::differ(l.bolt_top, old.bolt_top) || models::differ(l.bolt_bottom, old.bolt_bottom)});
    // What stands where the bow file has it at zero.
    const auto moved = [&](models::Work work, const char* part) {
        std::vector<std::string> moves;
        bool changed = false;
        for (const models::Setting& setting : models::settings_of(bow)) {
            if (setting.work != work) continue;
            const double now = setting.get(tune);
            if (models::differ(now, 0)) moves.push_back(amount_in_words(setting, now));
            changed |= models::differ(now, setting.get(today));
        }
        lines.push_back({moves.empty() ? fmt::format("{} as the bow file has it", part)
                                       : fmt::format("{} moved {}", part, fmt::join(moves, " and ")),
                         changed});
    };
    moved(models::Work::rest, "arrow rest");
    moved(models::Work::nocking_point, "nocking point");
    for (const models::Setting& setting : models::settings_of(bow)) {
        if (!setting.in_bow || setting.work == models::Work::rest) continue;
        const double now = setting.get(tune);
        const bool changed = models::differ(now, setting.get(today));
        if (changed || models::differ(now, 0))
            lines.push_back({"moved: " + change_in_words(setting, 0, now), changed});
    }
    const bool has_cables = bow.cables.system != models::CableSystem::single_cam;
    lines.push_back({has_cables ? fmt::format("twists added: string {:.3g}, cables {:.3g} and {:.3g}",
                                              l.twist_string, l.twist_cables[0], l.twist_cables[1])
                                : fmt::format("twists added: string {:.3g}, cable {:.3g}", l.twist_string,
                                              l.twist_cables[0]),
                     models::differ(l.twist_string, old.twist_string) || l.twist_cables != old.twist_cables});
    const auto yoke = [&](std::size_t cable, const char* axle) {
        lines.push_back({fmt::format("{} yoke twists: left {:.3g}, right {:.3g}", axle,
                                     l.twist_yoke_left[cable], l.twist_yoke_right[cable]),
                         models::differ(l.twist_yoke_left[cable], old.twist_yoke_left[cable]) ||
                             models::differ(l.twist_yoke_right[cable], old.twist_yoke_right[cable])});
    };
    switch (bow.cables.system) {
        case models::CableSystem::crossed:
            break;
        case models::CableSystem::yoked:
            yoke(1, "top");
            yoke(0, "bottom");
            break;
        case models::CableSystem::mixed:
            yoke(1, "top");
            break;
        case models::CableSystem::single_cam:
            yoke(0, "top");
    }
    return lines;
}

/// One drawing. Lengths across the bow are to scale; along it nothing is.
class Drawing {
public:
    Drawing(Page& page, const Frame& frame, const Bow& bow, const Layout& tune, const Layout& today)
        : page_(page), frame_(frame), bow_(bow), tune_(tune), today_(today) {
        gap_ = models::tip_gap(bow);
        limb_ = std::isfinite(gap_) && !bow.limb.stations.empty() ? bow.limb.stations.back().width : 20;
        if (bow.limb.kind == models::LimbKind::solid) limb_ = bow.limb.prong_width;
        scale_ = 0.72 * frame.width / (gap_ + 2 * limb_);
        middle_ = frame.corner.x() + frame.width / 2;
    }

    double draw(std::string_view caption) {
        const double size = frame_.size;
        double y = frame_.corner.y() + 1.3 * size;
        page_.text({middle_, y}, caption, {svg::Anchor::middle, 1.2 * size, true});
        y += 1.9 * size;
        for (const double side : {1.0, -1.0})
            page_.text({middle_ - side * 0.5 * frame_.width, y + 6 * size}, side > 0 ? "left" : "right",
                       {side > 0 ? svg::Anchor::start : svg::Anchor::end, size});
        spacer_texts(End::top, y);
        y += 0.6 * size;
        limbs_and_cam(End::top, y);
        y += 8 * size;
        const double riser_top = y;
        marks(y);
        y += 1.8 * size;
        for (const Line& line : lines_of(bow_, tune_, today_)) {
            y += line_height * size;
            page_.text({middle_, y}, line.text, {svg::Anchor::middle, size, line.changed});
        }
        y += 1.2 * size;
        riser(riser_top, y);
        limbs_and_cam(End::bottom, y);
        y += 8 * size + 1.6 * size;
        spacer_texts(End::bottom, y);
        return y + 0.8 * size;
    }

private:
    [[nodiscard]] double x(double left) const { return middle_ - scale_ * left; }
    [[nodiscard]] const SpacerStacks& stacks(const Layout& tune, End end) const {
        return end == End::top ? tune.spacers_top : tune.spacers_bottom;
    }

    void spacer_texts(End end, double y) {
        const SpacerStacks &now = stacks(tune_, end), &old = stacks(today_, end);
        page_.text({frame_.corner.x() + 0.25 * frame_.width, y}, stack_text(now.left),
                   {svg::Anchor::middle, frame_.size, now.left != old.left});
        page_.text({frame_.corner.x() + 0.75 * frame_.width, y}, stack_text(now.right),
                   {svg::Anchor::middle, frame_.size, now.right != old.right});
    }

    void stack(const std::vector<double>& spacers, double from, double toward, double y, double height,
               double width) {
        for (const double spacer : spacers) {
            const double to = from + toward * spacer;
            page_.rectangle({std::min(x(from), x(to)), y}, {scale_ * spacer, height}, spacer_fill, width);
            from = to;
        }
    }

    /// From y the upper of the limbs' ends downward; the axle is at the end away from the riser.
    void limbs_and_cam(End end, double y) {
        const double size = frame_.size, height = 8 * size;
        const double axle = end == End::top ? y + 1.3 * size : y + height - 1.3 * size;
        const models::Pairing &now = tune_.pairing, &old = today_.pairing;
        const bool top = end == End::top;
        limb(gap_ / 2, top ? now.top_left : now.bottom_left, top ? old.top_left : old.bottom_left, y, height);
        limb(-gap_ / 2 - limb_, top ? now.top_right : now.bottom_right,
             top ? old.top_right : old.bottom_right, y, height);
        page_.line({x(gap_ / 2 + limb_ + 3), axle}, {x(-gap_ / 2 - limb_ - 3), axle}, 1.4);
        const SpacerStacks &s = stacks(tune_, end), &before = stacks(today_, end);
        const double hub = models::cam_of(bow_, end).hub, offset = models::cam_offset(s);
        stack(s.left, offset + hub / 2, 1, axle - 0.8 * size, 1.6 * size,
              s.left == before.left ? plain_line : 1.8);
        stack(s.right, offset - hub / 2, -1, axle - 0.8 * size, 1.6 * size,
              s.right == before.right ? plain_line : 1.8);
        const double cam_top = top ? axle - 1.1 * size : axle - 3.3 * size;
        page_.rectangle({x(offset + hub / 2), cam_top}, {scale_ * hub, 4.4 * size}, cam_fill);
        const double plane = top ? cam_top : cam_top + 1.8 * size;
        page_.line({middle_, plane}, {middle_, plane + 2.6 * size}, 0.7, "4 3");
        page_.text({x(offset), top ? cam_top + 3.8 * size : cam_top + 1.4 * size}, "cam",
                   {svg::Anchor::middle, size});
        const double text_y = top ? y + height - 0.9 * size : y + 1.5 * size;
        page_.text({middle_, text_y},
                   models::differ(offset, 0) ? aside(offset, "left", "right", "mm") : "middle",
                   {svg::Anchor::middle, size, models::differ(offset, models::cam_offset(before))});
    }

    void limb(double from, double number, double before, double y, double height) {
        const bool changed = models::differ(number, before);
        page_.rectangle({x(from + limb_), y}, {scale_ * limb_, height}, limb_fill,
                        changed ? thick_line : plain_line);
        page_.text({x(from + limb_ / 2), y + height / 2 + 0.5 * frame_.size}, fmt::format("{:.4g}", number),
                   {svg::Anchor::middle, 1.4 * frame_.size, changed});
    }

    /// Where the guide stands sideways, and the bow's plane.
    void marks(double y) {
        if (bow_.guide.kind == models::GuideKind::none) return;
        const double size = frame_.size, side = 0.9 * size;
        const double left = bow_.guide.position.y() + tune_.guide_lateral;
        const bool changed = models::differ(tune_.guide_lateral, today_.guide_lateral);
        page_.line({middle_, y}, {middle_, y + 1.8 * size}, 0.7, "4 3");
        page_.rectangle({x(left) - side / 2, y + 0.6 * size}, {side, side}, cam_fill,
                        changed ? thick_line : plain_line);
        page_.text({x(left) + (left > 0 ? -1 : 1) * side, y + 1.4 * size}, "guide",
                   {left > 0 ? svg::Anchor::end : svg::Anchor::start, size, changed});
    }

    /// Its outline beside the texts.
    void riser(double top, double bottom) {
        const double half = frame_.width / 2;
        for (const double side : {-1.0, 1.0})
            page_.line({middle_ + side * half, top}, {middle_ + side * half, bottom}, 1.4);
        for (const double y : {top, bottom}) page_.line({middle_ - half, y}, {middle_ + half, y}, 1.4);
    }

    Page& page_;
    const Frame& frame_;
    const Bow& bow_;
    const Layout &tune_, &today_;
    double gap_ = 0, limb_ = 0, scale_ = 1, middle_ = 0;
};

}  // namespace

double draw_tune(Page& page, const Frame& frame, const Bow& bow, const Layout& tune, const Layout& today,
                 std::string_view caption) {
    return Drawing(page, frame, bow, tune, today).draw(caption);
}

}  // namespace limbwright::postproc
