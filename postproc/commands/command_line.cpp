#include "postproc/commands/command_line.hpp"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <functional>
#include <map>

#include "models/input/input_error.hpp"
#include "models/input/units.hpp"
#include "postproc/commands/command_check.hpp"
#include "postproc/commands/command_compare.hpp"
#include "postproc/commands/command_cure.hpp"
#include "postproc/commands/command_draw.hpp"
#include "postproc/commands/command_effects.hpp"
#include "postproc/commands/command_log.hpp"
#include "postproc/commands/command_match.hpp"
#include "postproc/commands/command_modes.hpp"
#include "postproc/commands/command_rank.hpp"
#include "postproc/commands/command_report.hpp"
#include "postproc/commands/command_start.hpp"

namespace limbwright::postproc {
namespace {

/// An option whose value is a quantity with its unit.
CLI::Option* add_quantity(CLI::App& app, const std::string& name, const models::Dimension& dimension,
                          const std::string& help, const std::function<void(double)>& take) {
    return app
        .add_option_function<std::string>(
            name,
            [=, &dimension](const std::string& text) {
                const std::optional<double> value = models::quantity_in(text, dimension);
                if (!value)
                    throw CLI::ValidationError(name, fmt::format("must be {} such as {}, but is \"{}\"",
                                                                 dimension.noun, dimension.examples, text));
                take(*value);
            },
            help)
        ->type_name("QUANTITY");
}

struct Commands {
    StartArguments start;
    CheckArguments check;
    CompareArguments compare;
    DrawArguments draw;
    EffectsArguments effects;
    ModesArguments modes;
    MatchArguments match;
    RankArguments rank;
    CureArguments cure;
    ReportArguments report;
    LogArguments log;
    std::function<int()> chosen;
};

void add_start(CLI::App& app, Commands& commands) {
    CLI::App& start = *app.add_subcommand(
        "start", "write a commented bow file to start from, out of what a tape, a caliper and a scale tell");
    models::BenchNumbers& b = commands.start.bench;
    start.add_option("file", commands.start.file, "bow file to write, such as my_bow.toml")->required();
    const auto need = [&](const std::string& name, const models::Dimension& dimension,
                          const std::string& help, double models::BenchNumbers::*member) {
        add_quantity(start, name, dimension, help, [&b, member](double v) { b.*member = v; })->required();
    };
    using models::BenchNumbers;
    namespace units = models::units;
    need("--axle-to-axle", units::length, "between the axles' middles at brace, \"33 in\"",
         &BenchNumbers::axle_to_axle);
    need("--brace-height", units::length, "pivot point of the grip to the string, \"7 in\"",
         &BenchNumbers::brace_height);
    need("--draw-length", units::length, "pivot point to nock groove at full draw plus 1.75 in, \"29 in\"",
         &BenchNumbers::draw_length);
    need("--peak-weight", units::force, "largest weight on the scale, \"60 lbf\"",
         &BenchNumbers::peak_weight);
    need("--limb-length", units::length, "along a limb from the pocket to the axle, \"320 mm\"",
         &BenchNumbers::limb_length);
    need("--limb-width-root", units::length, "of one split limb at the pocket, \"24 mm\"",
         &BenchNumbers::limb_width_root);
    add_quantity(start, "--limb-width-tip", units::length, "at the axle; without it, as at the pocket",
                 [&b](double v) { b.limb_width_tip = v; });
    need("--limb-thickness-root", units::length, "at the pocket, \"9 mm\"",
         &BenchNumbers::limb_thickness_root);
    need("--limb-thickness-tip", units::length, "at the axle", &BenchNumbers::limb_thickness_tip);
    start.add_flag_callback(
        "--left-handed", [&b] { b.hand = models::Hand::left; }, "the bow is for a left-handed archer");
    start.add_flag("--force", commands.start.force, "write over the file if it is there");
    start.callback([&] { commands.chosen = [&] { return command_start(commands.start); }; });
}

void add_compare(CLI::App& app, Commands& commands) {
    CLI::App& compare = *app.add_subcommand(
        "compare",
        "solve a bow as beams and as shells: measures side by side, what each costs, where they part");
    CompareArguments& c = commands.compare;
    compare.add_option("bow", c.bow, "bow file")->required();
    compare.add_flag("--all", c.all, "every measure");
    compare.add_flag("--json", c.json, "as JSON");
    compare.callback([&] { commands.chosen = [&] { return command_compare(c); }; });
}

void add_check(CLI::App& app, Commands& commands) {
    CLI::App& check = *app.add_subcommand(
        "check",
        "check a bow file and show what it means: limb rates, spacers against gaps, lever arms of the cams");
    check.add_option("bow", commands.check.bow, "bow file")->required();
    check.add_flag("--json", commands.check.json, "as JSON");
    check.callback([&] { commands.chosen = [&] { return command_check(commands.check); }; });
}

void add_draw(CLI::App& app, Commands& commands) {
    CLI::App& draw = *app.add_subcommand(
        "draw",
        "string and draw a bow: weight, cam lean, nock travel, forces; tables, pictures, VTK and HDF5 files");
    DrawArguments& d = commands.draw;
    draw.add_option("bow", d.bow, "bow file")->required();
    draw.add_option("-o,--folder", d.folder,
                    "folder for the files; without it, the bow file's name and _draw");
    draw.add_flag("--json", d.json, "all results as JSON on standard output");
    draw.add_flag_callback(
        "--no-files", [&d] { d.files = false; }, "write no files");
    draw.add_flag("--let-down", d.let_down,
                  "let the bow down again and tell how well it comes back to brace");
    add_quantity(draw, "--draw-length", models::units::length, "instead of the bow file's, \"28.5 in\"",
                 [&d](double v) { d.draw_length = v; });
    draw.add_option_function<int>(
            "--states", [&d](int n) { d.states = n; }, "number of states, brace and full draw included")
        ->check(CLI::Range(2, 2001));
    draw.callback([&] { commands.chosen = [&] { return command_draw(d); }; });
}

void add_effects(CLI::App& app, Commands& commands) {
    CLI::App& effects = *app.add_subcommand("effects",
                                            "how one step of each setting (limbs, spacers, guide, bolts, "
                                            "twists) changes lean, nock travel, weight");
    EffectsArguments& e = commands.effects;
    effects.add_option("bow", e.bow, "bow file")->required();
    effects.add_flag_callback(
        "--re-timed", [&e] { e.lengths = models::LengthRule::re_timed; },
        "set string and cables anew so that brace stays as measured, instead of keeping their lengths");
    add_quantity(
        effects, "--spacer", models::units::length,
        "thickness of the spacer whose move is one step, \"0.5 mm\"; without it, the thinnest in the bow",
        [&e](double v) { e.spacer = v; });
    effects.add_flag("--all", e.all, "every measure, at brace, at peak weight and at full draw");
    effects.add_flag("--json", e.json, "everything as JSON on standard output");
    effects.callback([&] { commands.chosen = [&] { return command_effects(e); }; });
}

void add_modes(CLI::App& app, Commands& commands) {
    CLI::App& modes = *app.add_subcommand(
        "modes",
        "natural frequencies and stability of a bow at brace and at full draw, and films of the shapes");
    ModesArguments& m = commands.modes;
    modes.add_option("bow", m.bow, "bow file")->required();
    modes.add_option("--count", m.count, "how many modes of each state, 10 without it")
        ->check(CLI::Range(1, 200));
    modes
        .add_option_function<ModesAt>(
            "--at", [&m](const ModesAt& at) { m.at = at; }, "one state only")
        ->transform(CLI::CheckedTransformer(
            std::map<std::string, ModesAt>{{"brace", ModesAt::brace}, {"full", ModesAt::full_draw}}))
        ->type_name("brace|full");
    modes.add_option("-o,--folder", m.folder,
                     "folder for the films; without it, the bow file's name and _modes");
    modes.add_flag_callback(
        "--no-files", [&m] { m.files = false; }, "write no films");
    modes.add_flag("--json", m.json, "all results as JSON on standard output");
    modes.callback([&] { commands.chosen = [&] { return command_modes(m); }; });
}

void add_threads(CLI::App& command, std::optional<int>& threads) {
    command
        .add_option_function<int>(
            "--threads", [&threads](int n) { threads = n; }, "without it, one for each core")
        ->check(CLI::Range(1, 4096));
}

void add_match(CLI::App& app, Commands& commands) {
    CLI::App& match = *app.add_subcommand("match",
                                          "fit a bow to bench measurements: which of its numbers they tell, "
                                          "what contradicts, what to measure next");
    MatchArguments& m = commands.match;
    match.add_option("bow", m.bow, "bow file")->required();
    match.add_option("bench", m.bench, "bench file: what was measured")->required();
    match.add_option("--write", m.write, "bow file to write with the matched numbers");
    match.add_flag("--force", m.force, "write over the file if it is there");
    match.add_flag("--json", m.json, "everything as JSON on standard output");
    match.callback([&] { commands.chosen = [&] { return command_match(m); }; });
}

void add_rank(CLI::App& app, Commands& commands) {
    CLI::App& rank = *app.add_subcommand(
        "rank",
        "solve all layouts of a study, or of very many those that may be among the best, and rank them");
    RankArguments& r = commands.rank;
    rank.add_option("study", r.study, "study file")->required();
    rank.add_option("-o,--folder", r.folder,
                    "folder for rows and results; without it, the study file's name and _rank");
    add_threads(rank, r.threads);
    rank.add_option(
            "--shard", r.shard,
            "solve one share only, such as 2/8, or auto: the one that mpirun or Slurm gives; the same "
            "command without it ranks all of them")
        ->type_name("K/N|auto");
    rank.add_flag_callback(
        "--no-files", [&r] { r.files = false; }, "write no files; a run that is stopped begins anew");
    rank.add_flag("--json", r.json, "the ranking as JSON on standard output");
    rank.add_option("--progress", r.progress,
                    "how far it has come, on standard error: one line over and over on a terminal, else a "
                    "line now and then; always: one line over and over; never")
        ->transform(
            CLI::CheckedTransformer(std::map<std::string, ProgressStyle>{{"auto", ProgressStyle::automatic},
                                                                         {"always", ProgressStyle::always},
                                                                         {"never", ProgressStyle::never}}))
        ->type_name("auto|always|never");
    rank.callback([&] { commands.chosen = [&] { return command_rank(r); }; });
}

/// What both cure and log take from the bench.
void add_session(CLI::App& command, SessionArguments& a) {
    command.add_option("--bench", a.bench, "bench file: what was measured on the bow as it stands");
    command.add_option("--tear", a.tear, "the tear's file, such as examples/tear_left.toml");
    command.add_option(
        "--tail", a.tail,
        "instead of a file: where the nock's end tore, seen by the archer: left, right, high, low, "
        "\"high left\", …; none: no tear");
    add_quantity(command, "--size", models::units::length, "of the tear, \"22 mm\"",
                 [&a](double v) { a.size = v; });
    add_quantity(command, "--distance", models::units::length, "from the bow to the paper, \"2 m\"",
                 [&a](double v) { a.distance = v; });
    command.add_option("--date", a.date, "of what is entered in the log, 2026-11-25; now without it");
    command.add_option("--remark", a.remark, "goes into the log");
    command.add_flag("--not-rebuilt", a.not_rebuilt, "what the log has planned last was not done");
    add_threads(command, a.threads);
}

void add_parts(CLI::App& command, models::CureOptions& options) {
    command.add_flag("--bolts", options.bolts, "limb bolts may be turned, too");
    command.add_option("--limb", options.limbs, "deflection number of a spare limb; may be repeated")
        ->check(CLI::PositiveNumber);
    add_quantity(command, "--spacer", models::units::length, "thickness of a spare spacer; may be repeated",
                 [&options](double v) {
                     options.spacers.push_back({v, 1});
                 });
}

void add_cure(CLI::App& app, Commands& commands) {
    CLI::App& cure = *app.add_subcommand(
        "cure",
        "read a paper tear, rank the changes that answer it, and write the bench sheet of one of them");
    CureArguments& c = commands.cure;
    cure.add_option("bow", c.bow, "bow file")->required();
    add_session(cure, c);
    cure.add_option("--log", c.log, "the bow's log: its measurements count, and what is new is entered");
    add_parts(cure, c.options);
    cure.add_option_function<int>(
            "--pick", [&c](int n) { c.pick = n; },
            "which cure the sheet is for; 1, the least work, without it")
        ->check(CLI::Range(1, 1000));
    cure.add_option("--sheet", c.sheet, "bench sheet to write, one page to print, .svg or .html");
    cure.add_flag("--json", c.json, "everything as JSON on standard output");
    cure.callback([&] { commands.chosen = [&] { return command_cure(c); }; });
}

void add_report(CLI::App& app, Commands& commands) {
    CLI::App& report = *app.add_subcommand("report",
                                           "write all there is to see of a bow into one HTML file: the bow "
                                           "in three dimensions, curves, effects, "
                                           "layouts to compare, the bench sheet");
    ReportArguments& r = commands.report;
    report.add_option("bow", r.bow, "bow file")->required();
    report.add_option(
        "--study", r.study,
        "study file of this bow, whose best layouts are shown; without it, the other pairings of "
        "its limbs and small shifts of cams and guide");
    report.add_option("--tear", r.tear, "the tear's file: adds its cures and the bench sheet of the first");
    add_threads(report, r.threads);
    report.add_option("-o,--file", r.file, "file to write; without it, the bow file's name and _report.html");
    report.callback([&] { commands.chosen = [&] { return command_report(r); }; });
}

void add_log(CLI::App& app, Commands& commands) {
    CLI::App& log = *app.add_subcommand(
        "log",
        "enter what was measured in a bow's log, compare it with what was planned, and say what to do next");
    LogArguments& l = commands.log;
    log.add_option("bow", l.bow, "bow file")->required();
    log.add_option("log", l.log, "the bow's log, such as my_bow_log.toml")->required();
    add_session(log, l);
    add_parts(log, l.options);
    log.add_flag("--json", l.json, "everything as JSON on standard output");
    log.callback([&] { commands.chosen = [&] { return command_log(l); }; });
}

}  // namespace

int run(int argument_count, char** arguments) {
    CLI::App app{
        "Limbwright draws compound bows by calculation: cam lean, nock travel, torque and forces of any "
        "layout,\n"
        "before anything is taken apart.",
        "limbwright"};
    app.set_version_flag("--version", std::string("limbwright ") + LIMBWRIGHT_VERSION);
    app.require_subcommand(1);
    app.footer("Help on a command: limbwright COMMAND --help");
    Commands commands;
    add_start(app, commands);
    add_check(app, commands);
    add_compare(app, commands);
    add_draw(app, commands);
    add_effects(app, commands);
    add_modes(app, commands);
    add_match(app, commands);
    add_rank(app, commands);
    add_cure(app, commands);
    add_report(app, commands);
    add_log(app, commands);
    if (argument_count < 2) {
        fmt::print(stderr, "{}", app.help());
        return 2;
    }
    if (const std::string word = arguments[1];
        !word.starts_with('-') &&
        app.get_subcommands([&](const CLI::App* command) { return command->get_name() == word; }).empty()) {
        fmt::print(
            stderr,
            "there is no command \"{}\"; the commands are start, check, compare, draw, effects, modes, rank, "
            "match, cure, log and report\n",
            word);
        return 2;
    }
    try {
        app.parse(argument_count, arguments);
        return commands.chosen();
    } catch (const CLI::ParseError& error) {
        return app.exit(error) == 0 ? 0 : 2;
    } catch (const models::InputError& error) {
        fmt::print(stderr, "{}\n", error.what());
        return 2;
    } catch (const UsageError& error) {
        fmt::print(stderr, "{}\n", error.sentence);
        return 2;
    } catch (const std::exception& error) {
        fmt::print(stderr, "limbwright: {}\n", error.what());
        return 1;
    }
}

}  // namespace limbwright::postproc
