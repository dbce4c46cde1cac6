#pragma once

#include <algorithm>
#include <array>
#include <atomic>
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <future>
#include <optional>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include "models/states/draw.hpp"
#include "models/states/measures.hpp"
#include "postproc/output/atomic_file.hpp"
#include "postproc/output/plot.hpp"
#include "postproc/output/table.hpp"

/// What every chapter of the study of cam lean needs: bows solved at three draws, numbers read off them,
/// tables and pictures written.
namespace cam_lean_study {

using namespace limbwright::models;
using limbwright::postproc::Column;
using limbwright::postproc::Curve;
using limbwright::postproc::Plot;
using limbwright::postproc::Table;

/// Brace, peak and full draw: places of `Solved::draw.states`. The peak is the draw at which the bow as it is
/// pulls most; all variants are looked at there.
enum Place : std::size_t { brace, peak, full };
constexpr std::array places{brace, peak, full};
constexpr std::array place_names{"brace", "peak", "full draw"};

constexpr std::array ends{End::top, End::bottom};

struct Solved {
    StrungBow strung;
    Draw draw;
};

/// Strings a bow and draws it.
///
/// @param peak_draw  nocking point to pivot where the middle one of three states is wanted [mm]; none: all
/// states that
///                   the bow file asks for
/// @throws std::runtime_error if it cannot be strung or drawn
inline Solved solved(Bow bow, std::optional<double> peak_draw) {
    if (peak_draw) bow.shooter.states = 3;
    Stringing stringing = string_up(assemble(bow));
    if (const auto* lost = std::get_if<NotStrung>(&stringing)) throw std::runtime_error(lost->reason);
    StrungBow strung = std::get<StrungBow>(std::move(stringing));
    Draw drawn = draw(strung);
    if (drawn.failure) throw std::runtime_error(*drawn.failure);
    if (peak_draw) {
        Draw to_peak = draw(strung, {.full_draw = *peak_draw, .states = 2, .path = {}});
        if (to_peak.failure) throw std::runtime_error(*to_peak.failure);
        to_peak.states.push_back(std::move(drawn.states.back()));
        drawn = std::move(to_peak);
    }
    return {std::move(strung), std::move(drawn)};
}

/// The same for many bows, on two threads; results in the bows' order.
inline std::vector<Solved> solved(const std::vector<Bow>& bows, std::optional<double> peak_draw) {
    std::vector<std::optional<Solved>> results(bows.size());
    std::atomic<std::size_t> next = 0;
    const auto work = [&] {
        for (std::size_t i = next++; i < bows.size(); i = next++) results[i] = solved(bows[i], peak_draw);
    };
    std::future<void> other = std::async(std::launch::async, work);
    work();
    other.get();
    std::vector<Solved> all;
    for (std::optional<Solved>& result : results) all.push_back(std::move(*result));
    return all;
}

/// A measure of the engine by its name, in one state.
inline double measured(const Solved& run, const std::string& name, std::size_t state) {
    for (const Measure& measure : state_measures(run.strung.bow))
        if (measure.name == name) return measure.value({run.strung.bow, run.draw, state, 0});
    throw std::invalid_argument("no measure is called " + name);
}

/// Cam lean [deg], positive when the cam's outer edge leans to the archer's left.
inline double lean(const Solved& run, End end, std::size_t state) {
    return measured(run, std::string("cam lean, ") + name(end), state);
}

/// A measure over all states, for a curve.
inline std::vector<double> over_draw(const Solved& run, const std::string& name) {
    std::vector<double> values;
    for (std::size_t i = 0; i < run.draw.states.size(); ++i) values.push_back(measured(run, name, i));
    return values;
}

/// A table of labelled rows.
class Rows {
public:
    Rows(const std::string& name, const std::string& title, const std::string& text_name,
         std::vector<Column> columns)
        : name_(name) {
        table_ = {
            .title = title, .columns = std::move(columns), .rows = {}, .text_name = text_name, .texts = {}};
    }
    void add(const std::string& text, std::vector<double> values) {
        table_.texts.push_back(text);
        table_.rows.push_back(std::move(values));
    }
    /// Prints the table and leaves it in `folder/NAME.txt`.
    void write(const std::filesystem::path& folder) const {
        const std::string text = limbwright::postproc::to_text(table_);
        std::fputs((text + "\n").c_str(), stdout);
        std::fflush(stdout);
        limbwright::postproc::write_whole_file(folder / (name_ + ".txt"), text);
    }

private:
    std::string name_;
    Table table_;
};

/// Leaves a plot in `folder/cam_lean_study_NAME.svg`.
inline void write_picture(const std::filesystem::path& folder, const std::string& name, const Plot& plot) {
    limbwright::postproc::write_whole_file(folder / ("cam_lean_study_" + name + ".svg"), to_svg(plot));
}

/// Observed order of convergence of three results, each on a mesh twice as fine as the one before, and the
/// limit that they tend to (Richardson):
///     p = log₂((f₁ − f₂)/(f₂ − f₃)),  f = f₃ + (f₃ − f₂)/(2ᵖ − 1)
struct Extrapolated {
    double order, limit;
};
inline Extrapolated richardson(double f1, double f2, double f3) {
    const double ratio = (f1 - f2) / (f2 - f3);
    return {std::log2(ratio), f3 + (f3 - f2) / (ratio - 1)};
}

}  // namespace cam_lean_study
