#include "postproc/commands/command_rank.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <nlohmann/json.hpp>
#include <set>

#include "models/study/ranking.hpp"
#include "models/study/reference_solver.hpp"
#include "models/study/study_file.hpp"
#include "postproc/output/atomic_file.hpp"
#include "postproc/output/caution.hpp"
#include "postproc/output/stop_signals.hpp"
#include "postproc/output/usage_error.hpp"
#include "postproc/results/draw_files.hpp"
#include "postproc/results/ranking_files.hpp"
#include "postproc/results/ranking_record.hpp"
#include "postproc/results/row_store.hpp"
#include "postproc/results/study_notes.hpp"
#include "postproc/results/study_results.hpp"

namespace limbwright::postproc {
namespace {

namespace fs = std::filesystem;
using Numbers = std::vector<std::int64_t>;

constexpr int status_stopped = 130;  // as shells tell of an interrupt

/// One run of the command: the study, its rows, and what the person sees meanwhile.
class Run {
public:
    explicit Run(const RankArguments& arguments)
        : arguments_(arguments),
          shard_(arguments.shard.empty() ? Shard{} : shard_from(arguments.shard)),
          folder_(arguments.folder.empty() ? fs::path(arguments.study.stem().string() + "_rank")
                                           : arguments.folder),
          threads_(arguments.threads.value_or(threads_for(shard_))),
          progress_(arguments.progress),
          study_(models::read_study(arguments.study)),
          base_(study_.bow, study_.study),
          rows_(base_, fingerprint(row_basis(study_.bow, study_.study, base_.columns())), folder_ / "rows",
                shard_, arguments.files) {}

    int run() {
        try {
            if (!arguments_.shard.empty())
                solve_share();
            else
                rank();
        } catch (const Stopped&) {
            progress_.finish();
            fmt::print(stderr, "{}",
                       arguments_.files ? "Stopped. What was solved is stored: the same command goes on from "
                                          "here.\n"
                                        : "Stopped. With --no-files nothing was stored.\n");
            return status_stopped;
        }
        fmt::print(stderr, "{}", caution);
        return 0;
    }

private:
    void stop_if_asked() const {
        if (signals_.stopped()) throw Stopped{};
    }

    std::vector<models::LayoutRow> solve(std::span<const std::int64_t> numbers) {
        stop_if_asked();
        const models::RunOptions options{
            .threads = threads_,
            .stop = &signals_.stopped(),
            .progress = [this](std::int64_t done, std::int64_t all, double seconds) {
                if (all > 0) progress_.layouts(done, all, seconds);
            }};
        return rows_.solve(numbers, options);
    }

    [[nodiscard]] models::SearchOptions search_options() {
        return {.threads = threads_, .progress = [this](std::string_view work, double share) {
                    stop_if_asked();
                    progress_.share(work, share);
                }};
    }

    [[nodiscard]] models::SolveLayouts solver() {
        return [this](std::span<const std::int64_t> numbers) { return solve(numbers); };
    }

    void solve_share() {
        models::search_share(base_, study_.study, solver(), search_options(),
                             [this](std::int64_t number) { return shard_.holds(number); });
        progress_.finish();
        fmt::print(
            "Share {} of {} of \"{}\" is solved; {} rows are in {}.\nWhen all shares are done, rank them "
            "with\n  limbwright rank {} -o {}\n",
            shard_.index, shard_.count, study_.study.name, grouped(static_cast<std::int64_t>(rows_.size())),
            (folder_ / "rows").string(), arguments_.study.string(), folder_.string());
    }

    void rank() {
        const models::StudySearch search = models::search(base_, study_.study, solver(), search_options());
        Numbers numbers = search.solved;
        const std::optional<std::int64_t> today =
            models::number_of_today(study_.bow, study_.study, base_.product());
        if (const auto place = std::ranges::lower_bound(numbers, today.value_or(-1));
            today && (place == numbers.end() || *place != *today))
            numbers.insert(place, *today);
        const std::vector<models::LayoutRow> rows = solve(numbers);
        const models::LayoutRow today_row =
            today ? *std::ranges::lower_bound(rows, *today, {}, &models::LayoutRow::number)
                  : models::solve_cold(base_, study_.bow.layout, -1);
        progress_.finish();
        RankingResults results = results_of(study_, base_, rows, today_row);
        results.bow_file = read_text(study_.bow_file);
        results.study_file = read_text(arguments_.study);
        add_notes(results, search, rows, today_row);
        show(results);
    }

    void add_notes(RankingResults& results, const models::StudySearch& search,
                   std::span<const models::LayoutRow> rows, const models::LayoutRow& today) {
        const models::ColdCheck check = models::compare_with_cold(
            base_, rows, threads_, &signals_.stopped(),
            [this](double share) { progress_.share("comparing with the plain engine", share); });
        progress_.finish();
        stop_if_asked();
        const auto add = [&](std::vector<std::string> notes) {
            std::ranges::move(notes, std::back_inserter(results.notes));
        };
        add(study_notes(base_, study_.study));
        add(search_notes(base_, study_.study, search));
        if (!today.failure.empty()) add({"Today's layout could not be solved: " + today.failure});
        if (search.screening &&
            std::ranges::any_of(results.best, [](const RankedLayout& l) { return !l.score.broken.empty(); }))
            add({"Of layouts that break a limit only those are ranked that were solved."});
        add(failure_notes(rows));
        add(cold_notes(base_, check));
    }

    void show(const RankingResults& results) {
        const int shown = study_.study.drawn;
        if (arguments_.json)
            fmt::print("{}\n", to_json(results).dump(1));
        else
            fmt::print("{}\n{}", to_text(results), to_text(forgiveness_table(results, shown)));
        if (!arguments_.files) return;
        const std::vector<FullDraw> draws = full_draws(base_, results, shown);
        for (const FullDraw& full : draws)
            if (!full.failure.empty()) fmt::print(stderr, "warning: {}: {}\n", full.name, full.failure);
        std::FILE* const out = arguments_.json ? stderr : stdout;
        fmt::print(out, "\nFiles:\n");
        for (const fs::path& file :
             write_ranking_files(results, draws, folder_, study_.bow_file.stem().string()))
            fmt::print(out, "  {}\n", file.string());
    }

    const RankArguments& arguments_;
    Shard shard_;
    fs::path folder_;
    int threads_;
    StopSignals signals_;
    Progress progress_;
    models::StudyFile study_;
    models::StudyBase base_;
    StudyRows rows_;
};

}  // namespace

int command_rank(const RankArguments& arguments) {
    if (!arguments.files && !arguments.shard.empty())
        throw UsageError{"--shard leaves its rows in files: it cannot go with --no-files"};
    return Run(arguments).run();
}

}  // namespace limbwright::postproc
