#include "postproc/commands/command_rank.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <nlohmann/json.hpp>

#include "models/study/full_draws.hpp"
#include "models/study/spot_check.hpp"
#include "models/study/study_file.hpp"
#include "models/study/study_run.hpp"
#include "postproc/output/atomic_file.hpp"
#include "postproc/output/caution.hpp"
#include "postproc/output/stop_signals.hpp"
#include "postproc/output/usage_error.hpp"
#include "postproc/results/draw_files.hpp"
#include "postproc/results/ranking_files.hpp"
#include "postproc/results/ranking_record.hpp"
#include "postproc/results/row_store.hpp"
#include "postproc/results/study_notes.hpp"

namespace limbwright::postproc {
namespace {

namespace fs = std::filesystem;

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
          store_(fingerprint(row_basis(study_.bow, study_.study, base_.columns())), base_.columns().size(),
                 folder_ / "rows", shard_, arguments.files) {}

    int run() {
        try {
            if (!arguments_.shard.empty())
                solve_share();
            else
                rank();
        } catch (const models::Stopped&) {
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
    [[nodiscard]] models::StudyOptions options() {
        return {.run = {.threads = threads_,
                        .stop = &signals_.stopped(),
                        .progress =
                            [this](std::int64_t done, std::int64_t all, double seconds) {
                                if (all > 0) progress_.layouts(done, all, seconds);
                            }},
                .known = store_.found(),
                .sink = [this](std::span<const models::LayoutRow> rows) { store_.append(rows); },
                .progress = [this](std::string_view work, double share) { progress_.share(work, share); }};
    }

    void solve_share() {
        const std::size_t known = models::solve_share(
            base_, options(), [this](std::int64_t number) { return shard_.holds(number); });
        progress_.finish();
        fmt::print(
            "Share {} of {} of \"{}\" is solved; {} rows are in {}.\nWhen all shares are done, rank them "
            "with\n  limbwright rank {} -o {}\n",
            shard_.index, shard_.count, base_.study().name, grouped(static_cast<std::int64_t>(known)),
            (folder_ / "rows").string(), arguments_.study.string(), folder_.string());
    }

    void rank() {
        models::RankedStudy study = models::rank_study(base_, options());
        progress_.finish();
        RankingResults results = results_of(base_, std::move(study.ranking));
        results.bow_file = read_text(study_.bow_file);
        results.study_file = read_text(arguments_.study);
        add_notes(results, study.search, study.rows);
        show(results);
    }

    void add_notes(RankingResults& results, const models::StudySearch& search,
                   std::span<const models::LayoutRow> rows) {
        const models::ColdCheck check = models::compare_with_cold(
            base_, rows, threads_, &signals_.stopped(),
            [this](double share) { progress_.share("comparing with the plain engine", share); });
        progress_.finish();
        if (check.stopped) throw models::Stopped{};
        const auto add = [&](std::vector<std::string> notes) {
            std::ranges::move(notes, std::back_inserter(results.notes));
        };
        add(study_notes(base_));
        add(search_notes(base_, search));
        if (!results.today.failure.empty())
            add({"Today's layout could not be solved: " + results.today.failure});
        if (search.screening && std::ranges::any_of(results.best, [](const models::RankedLayout& l) {
                return !l.score.broken.empty();
            }))
            add({"Of layouts that break a limit only those are ranked that were solved."});
        add(failure_notes(rows));
        add(cold_notes(base_, check));
    }

    void show(const RankingResults& results) {
        const int shown = base_.study().drawn;
        if (arguments_.json)
            fmt::print("{}\n", to_json(results).dump(1));
        else
            fmt::print("{}\n{}", to_text(results), to_text(forgiveness_table(results, shown)));
        if (!arguments_.files) return;
        const std::vector<models::FullDraw> draws = models::full_draws(base_, results, shown, threads_);
        for (const models::FullDraw& full : draws)
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
    RowStore store_;
};

}  // namespace

int command_rank(const RankArguments& arguments) {
    if (!arguments.files && !arguments.shard.empty())
        throw UsageError{"--shard leaves its rows in files: it cannot go with --no-files"};
    return Run(arguments).run();
}

}  // namespace limbwright::postproc
