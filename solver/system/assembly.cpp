#include "solver/system/assembly.hpp"

#include <cmath>

namespace limbwright::solver {

double total_energy(const System& system, const State& state) {
    double energy = 0;
    for (const auto& element : system.elements()) energy += element->energy(state);
    return energy;
}

VecX total_gradient(const System& system, const State& state) {
    VecX gradient = VecX::Zero(system.numbering().size());
    ElementVector g;
    for (std::size_t e = 0; e < system.elements().size(); ++e) {
        system.elements()[e]->gradient(state, g);
        const std::vector<int>& places = system.plan().gather[e];
        for (std::size_t i = 0; i < places.size(); ++i) gradient[places[i]] += g[static_cast<int>(i)];
    }
    return gradient;
}

void assemble(const System& system, const State& state, VecX& gradient, VecX& sizes, BlockMatrix& tangent) {
    gradient.setZero(system.numbering().size());
    sizes.setZero(system.numbering().size());
    tangent.set_zero();
    ElementVector g;
    ElementMatrix H;
    for (std::size_t e = 0; e < system.elements().size(); ++e) {
        system.elements()[e]->gradient_and_hessian(state, g, H);
        tangent.add(e, H);
        const std::vector<int>& places = system.plan().gather[e];
        for (std::size_t i = 0; i < places.size(); ++i) {
            gradient[places[i]] += g[static_cast<int>(i)];
            sizes[places[i]] += std::abs(g[static_cast<int>(i)]);
        }
    }
}

}  // namespace limbwright::solver
