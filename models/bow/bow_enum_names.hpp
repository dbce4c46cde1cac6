#pragma once

#include <array>

#include "models/bow/bow.hpp"
#include "models/input/enum_names.hpp"

/// The bow file's names for kinds of parts.
namespace limbwright::models {

inline constexpr std::array cable_system_names{
    Choice<CableSystem>{"crossed", CableSystem::crossed},
    Choice<CableSystem>{"yoked", CableSystem::yoked},
    Choice<CableSystem>{"mixed", CableSystem::mixed},
    Choice<CableSystem>{"single_cam", CableSystem::single_cam},
};
inline constexpr std::array limb_kind_names{
    Choice<LimbKind>{"split", LimbKind::split},
    Choice<LimbKind>{"solid", LimbKind::solid},
};
inline constexpr std::array part_model_names{
    Choice<PartModel>{"beam", PartModel::beam},
    Choice<PartModel>{"shell", PartModel::shell},
};
inline constexpr std::array warping_names{
    Choice<Warping>{"held", Warping::held},
    Choice<Warping>{"free", Warping::free},
};
inline constexpr std::array guide_kind_names{
    Choice<GuideKind>{"none", GuideKind::none},
    Choice<GuideKind>{"rollers", GuideKind::rollers},
    Choice<GuideKind>{"rod", GuideKind::rod},
    Choice<GuideKind>{"bending_rod", GuideKind::bending_rod},
};
inline constexpr std::array hand_names{
    Choice<Hand>{"right", Hand::right},
    Choice<Hand>{"left", Hand::left},
};

}  // namespace limbwright::models
