// Seconds for the pieces of a draw. Built where Google Benchmark is installed; run by hand:
//
//     build/bin/draw_benchmark

#include <benchmark/benchmark.h>

#include "models/bow/bow_file.hpp"
#include "models/states/draw.hpp"
#include "solver/lanes/lane_solver.hpp"
#include "solver/system/assembly.hpp"

namespace limbwright {
namespace {

const models::StrungBow& strung() {
    static const models::StrungBow bow = std::get<models::StrungBow>(
        models::string_up(models::assemble(models::read_bow(SOURCE_DIR "/examples/crossed.toml"))));
    return bow;
}

void assembly(benchmark::State& timer) {
    const solver::System& system = strung().bow.system;
    solver::Workspace w(system);
    for (auto _ : timer) assemble(system, strung().brace.state, w.gradient, w.sizes, w.tangent);
    timer.counters["freedoms"] = system.numbering().used();
    timer.counters["elements"] = static_cast<double>(system.elements().size());
}
BENCHMARK(assembly)->Unit(benchmark::kMicrosecond);

void factor(benchmark::State& timer) {
    const solver::System& system = strung().bow.system;
    solver::Workspace w(system);
    assemble(system, strung().brace.state, w.gradient, w.sizes, w.tangent);
    const std::vector<int> held = models::held_while_drawing(strung().bow);
    for (auto _ : timer) benchmark::DoNotOptimize(w.factor.factor(w.tangent, held));
    timer.counters["blocks"] = system.plan().blocks;
}
BENCHMARK(factor)->Unit(benchmark::kMicrosecond);

void solve(benchmark::State& timer) {
    const solver::System& system = strung().bow.system;
    solver::Workspace w(system);
    assemble(system, strung().brace.state, w.gradient, w.sizes, w.tangent);
    if (!w.factor.factor(w.tangent, models::held_while_drawing(strung().bow))) return;
    for (auto _ : timer) benchmark::DoNotOptimize(w.factor.solve(w.gradient));
}
BENCHMARK(solve)->Unit(benchmark::kMicrosecond);

void energy(benchmark::State& timer) {
    for (auto _ : timer) benchmark::DoNotOptimize(total_energy(strung().bow.system, strung().brace.state));
}
BENCHMARK(energy)->Unit(benchmark::kMicrosecond);

/// One Newton iteration in all lanes; the counter is for one of them.
void lanes(benchmark::State& timer) {
    const solver::LaneKernel kernel = solver::lane_kernels()[static_cast<std::size_t>(timer.range(0))];
    if (!kernel.runs_here) {
        timer.SkipWithError("not on this processor");
        return;
    }
    const solver::System& system = strung().bow.system;
    const auto pack = solver::make_lane_pack(system.shared_plan(), kernel.name);
    for (std::size_t e = 0; e < system.elements().size(); ++e) {
        solver::LanePack::PerLane same;
        same.fill(&system.elements()[e]);
        pack->set_element(e, same);
    }
    for (int lane = 0; lane < solver::LanePack::width; ++lane) pack->set_state(lane, strung().brace.state);
    const std::vector<int> held = models::held_while_drawing(strung().bow);
    std::array<bool, solver::LanePack::width> all;
    all.fill(true);
    long iterations = 0;
    for (auto _ : timer) {
        pack->factor(held);
        benchmark::DoNotOptimize(pack->step(all));
        ++iterations;
    }
    timer.SetLabel(kernel.name);
    timer.counters["seconds per lane"] =
        benchmark::Counter(static_cast<double>(iterations * solver::LanePack::width),
                           benchmark::Counter::kIsRate | benchmark::Counter::kInvert);
}
BENCHMARK(lanes)->Unit(benchmark::kMicrosecond)->DenseRange(0, 2);

/// A whole draw to full length; per Newton iteration, line searches, predictions and checks of the states
/// included.
void whole_draw(benchmark::State& timer) {
    long iterations = 0, states = 0;
    for (auto _ : timer) {
        const models::Draw drawn = models::draw(strung());
        for (const models::DrawState& s : drawn.states)
            iterations += s.iterations + 1;  // the last finds no step to take
        states += static_cast<long>(drawn.states.size());
    }
    timer.counters["iterations per state"] = static_cast<double>(iterations) / static_cast<double>(states);
    timer.counters["seconds per iteration"] = benchmark::Counter(
        static_cast<double>(iterations), benchmark::Counter::kIsRate | benchmark::Counter::kInvert);
}
BENCHMARK(whole_draw)->Unit(benchmark::kMillisecond);

void stringing(benchmark::State& timer) {
    const models::AssembledBow assembled = models::assemble(strung().bow.bow);
    for (auto _ : timer) benchmark::DoNotOptimize(models::string_up(assembled));
}
BENCHMARK(stringing)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace limbwright

BENCHMARK_MAIN();
