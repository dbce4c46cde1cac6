// Does a piece of work so many times, for a counter of instructions around it:
//
//     counted_work iteration|layouts TIMES

#include <cstdlib>
#include <string>

#include "models/study/batch_solver.hpp"
#include "models/study/study_file.hpp"
#include "solver/system/assembly.hpp"

using namespace limbwright;

int main(int count, char** arguments) {
    if (count != 3) return 2;
    const std::string work = arguments[1];
    const int times = std::atoi(arguments[2]);
    const models::StudyFile file = models::read_study(SOURCE_DIR "/examples/rebuilds_of_four.toml");
    const models::StudyBase base(file.bow, file.study);
    if (work == "iteration") {
        // Newton's step as the plain engine makes it: assembled, factored, solved, moved, the energy taken.
        const solver::System& system = base.today().bow.system;
        solver::Workspace w(system);
        double energy = 0;
        for (int i = 0; i < times; ++i) {
            solver::assemble(system, base.today().brace.state, w.gradient, w.sizes, w.tangent);
            if (!w.factor.factor(w.tangent, base.stations()[0].held)) return 1;
            const solver::VecX step = w.factor.solve(-w.gradient);
            energy += total_energy(system, moved(base.today().brace.state, step));
        }
        return std::isfinite(energy) ? 0 : 1;
    }
    models::LayoutSolver solver(base, "x86-64-v3");
    const std::int64_t eight[] = {0, 1000, 2100, 3200, 4300, 5400, 6500, 9719};
    for (int i = 0; i < times; ++i) (void)solver.solve(eight);
    return 0;
}
