#include "postproc/commands/command_start.hpp"

#include <fmt/format.h>

#include <optional>

#include "models/bow/bow_file.hpp"
#include "models/input/units.hpp"
#include "models/matching/bench_form.hpp"
#include "models/states/draw.hpp"
#include "postproc/output/atomic_file.hpp"

namespace limbwright::postproc {
namespace {

/// Largest draw force of the bow in a starter text [N]; none if it cannot be strung and drawn.
std::optional<double> peak_weight(const std::string& text) {
    const models::Stringing stringing =
        models::string_up(models::assemble(models::bow_from_toml(text, "starter")));
    const auto* strung = std::get_if<models::StrungBow>(&stringing);
    if (!strung) return std::nullopt;
    const models::Draw draw = models::draw(*strung);
    if (draw.failure) return std::nullopt;
    return draw.peak().force;
}

/// The starter's text with limbs as stiff as the peak weight asks; as guessed, if that bow cannot be drawn.
std::string fitted_starter(const models::BenchNumbers& bench) {
    double share = 1;
    for (int round = 0; round < 5; ++round) {  // each round leaves a few per cent of the error before
        const std::optional<double> peak = peak_weight(models::starter_bow(bench, share));
        if (!peak) return models::starter_bow(bench);
        share *= bench.peak_weight / *peak;
    }
    return models::starter_bow(bench, share);
}

}  // namespace

int command_start(const StartArguments& arguments) {
    const std::filesystem::path bench =
        arguments.file.parent_path() / (arguments.file.stem().string() + "_bench.toml");
    for (const std::filesystem::path& file : {arguments.file, bench})
        if (std::filesystem::exists(file) && !arguments.force)
            throw UsageError{fmt::format(
                "{} is there already; add --force to write over it, or name another file", file.string())};
    const std::string text = fitted_starter(arguments.bench);
    const models::Bow bow = models::bow_from_toml(text, arguments.file);
    write_whole_file(arguments.file, text);
    write_whole_file(bench, models::bench_form(bow, models::starter_bench(arguments.bench, bow), {}));
    const std::optional<double> peak = peak_weight(text);
    fmt::print(
        "{0} is written{1}. Values marked as guesses want measuring; the grooves of the cams above all.\n"
        "{2} holds the bench numbers, with lines for more of them.\n"
        "Next: limbwright check {0}\n"
        "A tear: limbwright cure {0} --bench {2} --tail left --size \"22 mm\" --sheet sheet.html\n",
        arguments.file.string(),
        peak ? fmt::format("; as it stands it draws to {:.1f} lbf", *peak / models::units::pound)
             : "; as it stands it cannot be drawn: its guesses do not suit the bench numbers",
        bench.string());
    return 0;
}

}  // namespace limbwright::postproc
