#pragma once

#include "models/tuning/cure_search.hpp"
#include "models/tuning/rebuild_steps.hpp"
#include "postproc/output/print_page.hpp"

/// The one page that goes to the bench.
namespace limbwright::postproc {

struct BenchSheet {
    const models::Bow& bow;
    const models::Tear& tear;
    const models::Wanted& wanted;  ///< what the model makes of the tear
    const models::Layout& today;
    const models::Cure& cure;
    std::string enter{};  ///< command that enters what is measured afterwards
};

/// Lays the sheet out on A4: tear, today's tune and the new one side by side, the steps in order, what to
/// restore and measure with what to expect and room to write, what gets worse, cautions. The texts are as
/// large as lets all of it fit.
///
/// @throws std::length_error if it does not fit at the smallest size that can be read, 6.5 pt
[[nodiscard]] Page lay_out(const BenchSheet& sheet);

/// "Bench sheet: Marsh Heron 33, right hand".
[[nodiscard]] std::string title_of(const BenchSheet& sheet);

}  // namespace limbwright::postproc
