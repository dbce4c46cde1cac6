#include "postproc/commands/command_compare.hpp"

#include <fmt/format.h>

#include <array>
#include <nlohmann/json.hpp>

#include "models/bow/bow_file.hpp"
#include "postproc/output/caution.hpp"
#include "postproc/results/compare_results.hpp"

namespace limbwright::postproc {
namespace {

using models::PartModel;
using models::Warping;

constexpr std::array choices{
    models::ModelChoice{PartModel::beam, PartModel::beam, Warping::free},
    models::ModelChoice{PartModel::beam, PartModel::beam, Warping::held},
    models::ModelChoice{PartModel::beam, PartModel::shell, Warping::held},
    models::ModelChoice{PartModel::shell, PartModel::beam, Warping::held},
    models::ModelChoice{PartModel::shell, PartModel::shell, Warping::held},
};

}  // namespace

int command_compare(const CompareArguments& arguments) {
    const models::Bow bow = models::read_bow(arguments.bow);
    Runs runs;
    for (const models::ModelChoice& choice : choices) {
        fmt::print(stderr, "{} ...\n", choice.name());
        auto answer = models::run_model(bow, choice);
        if (const auto* lost = std::get_if<std::string>(&answer)) {
            fmt::print(stderr, "{}: {}\n", bow.name, *lost);
            return 1;
        }
        runs.push_back(std::get<models::ModelRun>(std::move(answer)));
        if (const auto& failure = runs.back().draw.failure) {
            fmt::print(stderr, "{}: {}\n", choice.name(), *failure);
            return 1;
        }
    }
    if (arguments.json) {
        fmt::print("{}\n", to_json(runs, bow.name).dump(1));
    } else {
        fmt::print("{}\n\n{}\n{}\n{}\nWhere they part\n", bow.name,
                   to_text(measures_table(runs, arguments.all)), to_text(rates_table(runs)),
                   to_text(cost_table(runs)));
        for (const std::string& finding : findings(runs)) fmt::print("{}", paragraph("- " + finding, 2));
    }
    fmt::print(stderr, "{}", caution);
    return 0;
}

}  // namespace limbwright::postproc
