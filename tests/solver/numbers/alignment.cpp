// Whatever a program is compiled for, it lays out the solver's classes alike.
#include "solver/lanes/lane_layout.hpp"

namespace limbwright::solver {
static_assert(alignof(Mat6) == 16 && alignof(Beam) == 16);
}  // namespace limbwright::solver
