#include "models/matching/joint_forward_model.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "models/matching/calibrated_bow.hpp"

namespace limbwright::models {
namespace {

using solver::MatX;
using solver::VecX;

bool is_measured(const std::string& key, const std::vector<BenchDay>& days) {
    return std::ranges::any_of(days, [&](const BenchDay& day) {
        return std::ranges::find(day.sheet.measurements, key, &Measurement::quantity) !=
               day.sheet.measurements.end();
    });
}

/// Those of this bow, as sure as the days say; the last one that says so counts.
std::vector<MatchParameter> parameters_of(const Bow& bow, const std::vector<BenchDay>& days) {
    std::vector<MatchParameter> parameters = match_parameters(bow);
    std::erase_if(parameters,
                  [&](const MatchParameter& p) { return p.work == Work::rest && !is_measured(p.key, days); });
    for (MatchParameter& p : parameters)
        for (const BenchDay& day : days)
            if (const auto own = day.sheet.bow_sure.find(p.key); own != day.sheet.bow_sure.end())
                p.sigma = own->second;
    return parameters;
}

}  // namespace

BenchQuery bench_query(const std::vector<BenchQuantity>& quantities, const std::string& key,
                       std::optional<double> draw_length) {
    const BenchQuantity* quantity = find(quantities, key);
    if (!quantity) throw std::invalid_argument("there is no measurement \"" + key + "\" on this bow");
    BenchQuery made{*quantity, {}};
    if (draw_length) made.draw = *draw_length - draw_length_beyond_pivot;
    return made;
}

JointModel::JointModel(const Bow& bow, const std::vector<BenchDay>& days) {
    const std::vector<BenchQuantity> quantities = bench_quantities(bow);
    for (const BenchDay& day : days) {
        const Bow tuned = with_layout(bow, day.layout);
        Day made{tuned, parameters_of(tuned, days), {}};
        find_places(made, day.name);
        std::vector<BenchQuery> queries;
        for (const Measurement& m : day.sheet.measurements)
            queries.push_back(bench_query(quantities, m.quantity, m.at));
        models_.emplace_back(tuned, made.parameters, std::move(queries));
        start_.push_back(models_.back().start());
        days_.push_back(std::move(made));
    }
}

void JointModel::find_places(Day& day, const std::string& name) {
    day.places.assign(day.parameters.size(), -1);
    for (const Day& before : days_) {
        const std::vector<int> there = partners(day.bow, day.parameters, before.bow, before.parameters);
        for (std::size_t k = 0; k < there.size(); ++k)
            if (day.places[k] < 0 && there[k] >= 0 && !day.parameters[k].at_brace)
                day.places[k] = before.places[static_cast<std::size_t>(there[k])];
    }
    for (std::size_t k = 0; k < day.places.size(); ++k) {
        if (day.places[k] >= 0) continue;
        day.places[k] = static_cast<int>(parameters_.size());
        parameters_.push_back(day.parameters[k]);
        if (!days_.empty()) {
            parameters_.back().key += "_" + name;
            parameters_.back().name += ", " + name;
        }
        prior_.conservativeResize(prior_.size() + 1);
        prior_[prior_.size() - 1] = day.parameters[k].get(day.bow);
    }
}

VecX JointModel::change(const Day& day, const VecX& values) const {
    return (values - prior_)(day.places);
}

std::optional<DayStates> JointModel::solve(const VecX& values, const DayStates& near) const {
    DayStates states;
    for (std::size_t j = 0; j < days_.size(); ++j) {
        const VecX own = values_of(days_[j].bow, days_[j].parameters) + change(days_[j], values);
        std::optional<BenchStates> found = models_[j].solve(own, near[j]);
        if (!found) return std::nullopt;
        states.push_back(std::move(*found));
    }
    return states;
}

VecX JointModel::values(const DayStates& states) const {
    VecX all(0);
    for (std::size_t j = 0; j < days_.size(); ++j) {
        const VecX own = models_[j].values(states[j]);
        all.conservativeResize(all.size() + own.size());
        all.tail(own.size()) = own;
    }
    return all;
}

MatX JointModel::slopes(const DayStates& states, const std::optional<std::vector<int>>& which) const {
    MatX all(0, prior_.size());
    for (std::size_t j = 0; j < days_.size(); ++j) {
        const std::vector<int>& places = days_[j].places;
        std::optional<std::vector<int>> own;
        if (which) {
            own.emplace();
            for (std::size_t k = 0; k < places.size(); ++k)
                if (std::ranges::find(*which, places[k]) != which->end()) own->push_back(static_cast<int>(k));
        }
        const MatX slopes = models_[j].slopes(states[j], own);
        all.conservativeResize(all.rows() + slopes.rows(), Eigen::NoChange);
        all.bottomRows(slopes.rows()).setZero();
        for (Eigen::Index k = 0; k < slopes.cols(); ++k)
            all.bottomRows(slopes.rows()).col(places[static_cast<std::size_t>(k)]) += slopes.col(k);
    }
    return all;
}

DayStates JointModel::centred(const DayStates& states) const {
    DayStates moved = states;
    for (std::size_t j = 0; j < days_.size(); ++j)
        if (std::optional<BenchStates> better = models_[j].centred(states[j])) moved[j] = std::move(*better);
    return moved;
}

double JointModel::off_centre(const DayStates& states) const {
    double farthest = 0;
    for (std::size_t j = 0; j < days_.size(); ++j)
        farthest = std::max(farthest, std::abs(models_[j].off_centre(states[j])));
    return farthest;
}

}  // namespace limbwright::models
