// Seconds for layouts of a study, and beside them what other ways take. Built where Google Benchmark is
// installed; run by hand:
//
//     build/bin/layout_benchmark
//
// The comparison with CalculiX needs Debian's package calculix-ccx.

#include <benchmark/benchmark.h>
#include <fmt/format.h>

#include <chrono>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <thread>

#include "models/study/batch_solver.hpp"
#include "models/study/reference_solver.hpp"
#include "models/study/study_file.hpp"

namespace limbwright {
namespace {

const models::StudyBase& study() {
    static const models::StudyBase base = [] {
        const models::StudyFile file = models::read_study(SOURCE_DIR "/examples/rebuilds_of_four.toml");
        return models::StudyBase(file.bow, file.study);
    }();
    return base;
}

/// Layouts that lie all over the product.
std::vector<std::int64_t> spread(std::int64_t count) {
    std::vector<std::int64_t> numbers;
    for (std::int64_t i = 0; i < count; ++i) numbers.push_back(i * study().product().size() / count);
    return numbers;
}

/// Brace, peak and full draw of layouts, eight in the lanes, warm from today's states; on so many threads.
void warm_layouts(benchmark::State& timer) {
    const int threads = static_cast<int>(timer.range(0));
    std::vector<std::unique_ptr<models::LayoutSolver>> solvers;
    for (int t = 0; t < threads; ++t) solvers.push_back(std::make_unique<models::LayoutSolver>(study()));
    const std::vector<std::int64_t> numbers = spread(512);
    for (auto _ : timer) {
        std::vector<std::jthread> team;
        for (int t = 0; t < threads; ++t)
            team.emplace_back([&, t] {
                for (std::size_t i = 8 * static_cast<std::size_t>(t); i < numbers.size();
                     i += 8 * static_cast<std::size_t>(threads))
                    benchmark::DoNotOptimize(solvers[static_cast<std::size_t>(t)]->solve({&numbers[i], 8}));
            });
    }
    models::SolveCounts counts;
    for (const auto& solver : solvers) counts += solver->counts();
    timer.counters["layouts per second"] =
        benchmark::Counter(static_cast<double>(counts.layouts), benchmark::Counter::kIsRate);
    timer.counters["iterations per layout"] =
        8 * static_cast<double>(counts.iterations) / static_cast<double>(counts.layouts);
    timer.counters["by the plain engine"] = static_cast<double>(counts.plain);
}
BENCHMARK(warm_layouts)->Arg(1)->Arg(2)->UseRealTime()->Unit(benchmark::kMillisecond);

/// The naive loop: every layout assembled, strung and drawn from cold, one after the other.
void cold_layouts(benchmark::State& timer) {
    const std::vector<std::int64_t> numbers = spread(16);
    std::size_t i = 0;
    for (auto _ : timer) benchmark::DoNotOptimize(solve_cold(study(), numbers[i++ % numbers.size()]));
    timer.counters["layouts per second"] =
        benchmark::Counter(static_cast<double>(timer.iterations()), benchmark::Counter::kIsRate);
}
BENCHMARK(cold_layouts)->Unit(benchmark::kMillisecond);

/// A cantilever of 60 quadratic beams (121 nodes, as many as the demo bow has), rolled up by a tip force in
/// large displacements and twenty steps. Per Newton iteration, the program's start included.
void calculix(benchmark::State& timer) {
    const std::filesystem::path folder =
        std::filesystem::temp_directory_path() / "limbwright_calculix_benchmark";
    std::filesystem::create_directories(folder);
    const auto run = [&](double force) {
        const std::string name = fmt::format("beam_{:.0f}", force);
        {
            std::ofstream input(folder / (name + ".inp"));
            input << "*NODE,NSET=ALL\n";
            for (int i = 0; i <= 120; ++i) input << fmt::format("{},{},0,0\n", i + 1, 1000. * i / 120);
            input << "*ELEMENT,TYPE=B32R,ELSET=BEAM\n";
            for (int e = 0; e < 60; ++e)
                input << fmt::format("{},{},{},{}\n", e + 1, 2 * e + 1, 2 * e + 2, 2 * e + 3);
            input << "*MATERIAL,NAME=M\n*ELASTIC\n200000,0.3\n*BEAM "
                     "SECTION,ELSET=BEAM,MATERIAL=M,SECTION=RECT\n10,10\n"
                     "0,1,0\n*BOUNDARY\n1,1,6\n*STEP,NLGEOM,INC=100\n*STATIC,DIRECT\n0.05,1\n"
                  << fmt::format("*CLOAD\n121,3,{}\n*END STEP\n", force);
        }
        const auto begin = std::chrono::steady_clock::now();
        const std::string command =
            fmt::format("cd {} && OMP_NUM_THREADS=1 ccx -i {} > {}.log 2>&1", folder.string(), name, name);
        if (std::system(command.c_str()) != 0) return std::pair{std::nan(""), 0};
        const double seconds =
            std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
        std::ifstream log(folder / (name + ".log"));
        int iterations = 0;
        for (std::string line; std::getline(log, line);) iterations += line.starts_with(" iteration ");
        return std::pair{seconds, iterations};
    };
    double seconds = 0;
    int iterations = 0;
    for (auto _ : timer) {
        const auto [took, did] = run(1500);
        seconds += took;
        iterations += did;
    }
    if (!(seconds > 0) || iterations == 0) {
        timer.SkipWithError("ccx did not run");
        return;
    }
    timer.counters["iterations"] = iterations;
    timer.counters["ms per iteration"] = 1e3 * seconds / iterations;
}
BENCHMARK(calculix)->Iterations(1)->UseRealTime()->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace limbwright

BENCHMARK_MAIN();
