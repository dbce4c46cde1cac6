#pragma once

#include "models/bow/part_keys.hpp"

namespace limbwright::models {

/// A cam's table.
///
/// @param idler  the string runs through and ends at no post, so that its track needs no anchor
void describe(PartTable& table, Cam& cam, bool idler);

/// Both cams. Where they may be alike the bottom one is left out, and follows from the top one.
void describe_cams(PartTable& cams, Bow& bow);

}  // namespace limbwright::models
