#include "models/tuning/layouts_at_hand.hpp"

#include <algorithm>

#include "models/bow/settings.hpp"
#include "models/bow/spacers.hpp"
#include "models/study/pairings.hpp"
#include "models/study/parallel_for.hpp"

namespace limbwright::models {
namespace {

std::vector<LayoutAtHand> at_hand(const Bow& bow) {
    const Pairing& p = bow.layout.pairing;
    std::vector<double> limbs{p.top_left, p.bottom_left};
    if (bow.limb.kind == LimbKind::split) limbs.insert(limbs.end(), {p.top_right, p.bottom_right});
    std::vector<LayoutAtHand> all;
    for (const Pairing& pairing : pairings(limbs, bow.limb.kind)) {
        if (pairing == p) continue;
        all.push_back({bow.layout});
        all.back().layout.pairing = pairing;
    }
    const std::vector<Setting> settings = settings_of(bow, thinnest_spacer(bow));
    const auto add = [&](std::initializer_list<const char*> names, double change, LengthRule lengths) {
        LayoutAtHand made{bow.layout, lengths};
        for (const char* name : names) {
            const auto setting = std::ranges::find(settings, name, &Setting::name);
            if (setting == settings.end()) return;
            setting->set(made.layout, setting->get(bow.layout) + change);
        }
        all.push_back(std::move(made));
    };
    for (const double change : {1.0, -1.0}) {
        add({"spacers, top"}, change, LengthRule::re_timed);
        add({"spacers, bottom"}, change, LengthRule::re_timed);
        add({"spacers, top", "spacers, bottom"}, change, LengthRule::re_timed);
        add({"guide, lateral"}, change, LengthRule::kept);
    }
    return all;
}

}  // namespace

std::vector<LayoutAtHand> layouts_at_hand(const TuneSolver& solver, int threads) {
    const SolvedTune& today = solver.today();
    std::vector<LayoutAtHand> all = at_hand(today.strung.bow.bow);
    parallel_for(std::ssize(all), {.threads = threads}, [&](int, std::int64_t i, std::int64_t) {
        Tune tune = today.tune;
        tune.layout = all[i].layout;
        auto answer = solver.solve(tune, all[i].lengths);
        if (auto* solved = std::get_if<SolvedTune>(&answer))
            all[i].answer = std::move(*solved);
        else
            all[i].answer = std::get<NotSolved>(std::move(answer));
    });
    return all;
}

}  // namespace limbwright::models
