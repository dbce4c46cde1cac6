#include "solver/system/system.hpp"

#include <stdexcept>

namespace limbwright::solver {
namespace {

std::vector<const std::vector<Touch>*> touches_of(const System::Elements& elements) {
    std::vector<const std::vector<Touch>*> touches;
    for (const auto& element : elements) touches.push_back(&element->touches());
    return touches;
}

}  // namespace

System::System(const Numbering& numbering, Elements elements)
    : elements_(std::move(elements)), plan_(std::make_shared<const Plan>(numbering, touches_of(elements_))) {}

System System::with(std::size_t index, std::shared_ptr<const Element> element) const {
    System system = *this;
    system.replace(index, std::move(element));
    return system;
}

void System::replace(std::size_t index, std::shared_ptr<const Element> element) {
    if (element->touches() != elements_[index]->touches())
        throw std::invalid_argument("an element's successor must touch the same freedoms in the same order");
    elements_[index] = std::move(element);
}

}  // namespace limbwright::solver
