#include "models/study/design_space.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <stdexcept>

namespace limbwright::models {
namespace {

constexpr double step_rounding = 1e-9;  // of a step, and of sums of spacers [mm]: 0.1 is not exact in binary

std::vector<Setting> of_work(const std::vector<Setting>& settings, Work work) {
    std::vector<Setting> found;
    std::ranges::copy_if(settings, std::back_inserter(found),
                         [&](const Setting& s) { return s.work == work; });
    return found;
}

void set_pairing(Layout& layout, const Pairing& pairing) {
    layout.pairing = pairing;
}

void set_spacers(Layout& layout, const SpacerPair& spacers) {
    layout.spacers_top = spacers.top;
    layout.spacers_bottom = spacers.bottom;
}

}  // namespace

double count_of(const Steps& steps) {
    return std::floor((steps.to - steps.from) / steps.step + step_rounding) + 1;
}

std::vector<double> values_of(const Steps& steps) {
    std::vector<double> values(static_cast<std::size_t>(count_of(steps)));
    for (std::size_t i = 0; i < values.size(); ++i) {
        values[i] = steps.from + static_cast<double>(i) * steps.step;
        if (std::abs(values[i]) < step_rounding * steps.step) values[i] = 0;
    }
    return values;
}

template <class Choice, class Apply>
void Product::add_factor(const std::vector<Choice>& choices, const std::vector<Setting>& settings,
                         const Apply& apply) {
    Factor factor;
    factor.size = static_cast<std::int64_t>(choices.size());
    Layout layout = today_;
    for (const Setting& setting : settings) {
        std::vector<double> column;
        column.reserve(choices.size());
        for (const Choice& choice : choices) {
            apply(layout, choice);
            column.push_back(setting.get(layout));
        }
        const auto differs = [&](double value) { return std::abs(value - column.front()) > step_rounding; };
        if (std::ranges::none_of(column, differs)) continue;
        varied_.push_back(setting);
        factor.columns.push_back(std::move(column));
    }
    factors_.push_back(std::move(factor));
}

Product::Product(const Bow& bow, const Study& study)
    : today_(bow.layout),
      pairings_{bow.layout.pairing},
      spacers_{{bow.layout.spacers_top, bow.layout.spacers_bottom}} {
    const std::vector<Setting> settings = settings_of(bow);
    if (!study.limbs.empty()) {
        pairings_ = models::pairings(study.limbs, bow.limb.kind);
        arrangements_ = count_arrangements(study.limbs.size(), bow.limb.kind);
    }
    if (!study.spacers.empty()) spacers_ = spacer_pairs(bow, study.spacers);
    add_factor(pairings_, of_work(settings, Work::limbs), set_pairing);
    add_factor(spacers_, of_work(settings, Work::spacers), set_spacers);
    for (const SettingRange& range : study.ranges) {
        const auto setting = std::ranges::find(settings, range.setting, &Setting::name);
        if (setting == settings.end())
            throw std::invalid_argument("no setting of this bow: " + range.setting);
        range_settings_.push_back(*setting);
        ranges_.push_back(values_of(range.steps));
        add_factor(ranges_.back(), {*setting}, setting->set);
    }
    for (std::size_t i = factors_.size(); i-- > 0;) {
        factors_[i].stride = size_;
        size_ *= factors_[i].size;
    }
}

Layout Product::layout(std::int64_t number) const {
    Layout layout = today_;
    set_pairing(layout, pairings_[factors_[0].choice(number)]);
    set_spacers(layout, spacers_[factors_[1].choice(number)]);
    for (std::size_t i = 0; i < ranges_.size(); ++i)
        range_settings_[i].set(layout, ranges_[i][factors_[2 + i].choice(number)]);
    return layout;
}

void Product::point(std::int64_t number, double* values) const {
    for (const Factor& factor : factors_) {
        const std::size_t choice = factor.choice(number);
        for (const std::vector<double>& column : factor.columns) *values++ = column[choice];
    }
}

}  // namespace limbwright::models
