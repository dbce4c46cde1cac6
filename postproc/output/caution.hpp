#pragma once

namespace limbwright::postproc {

/// What every command that tells about a strung bow says on standard error.
inline constexpr const char* caution =
    "\nA calculation is no permission: the maker's manual and a qualified technician come first. Use a "
    "press made for the bow,\nnever dry-fire it, never load limbs beyond their maker's limits.\n";

}  // namespace limbwright::postproc
