#include "Files/TrialFolder.h"

#include "Files/AnalysisFile.h"
#include "Files/AtomicFile.h"
#include "Files/ForeignKeys.h"
#include "Files/TrialInspection.h"
#include "Trial/TrialCheck.h"

#include <juce_core/juce_core.h>

namespace plumbline
{

namespace fs = std::filesystem;

std::string newTrialId()
{
    return juce::Uuid().toString().substring(0, 12).toStdString();
}

std::string isoTimeNow()
{
    return juce::Time::getCurrentTime().toISO8601(true).toStdString();
}

const std::set<std::string>& TrialFolder::contents()
{
    static const std::set<std::string> names{
        "trial.json",  "trial.lock",   "takes",         "discarded",
        "capture.wav", "capture.json", "analysis.json", "summary.json"
    };
    return names;
}

TrialFolder::TrialFolder(fs::path where, TrialText read) : folder(std::move(where))
{
    takeOver(std::move(read));
}

void TrialFolder::takeOver(TrialText read)
{
    content = std::move(read.trial);
    stored = std::move(read.json);
    text = std::move(read.text);
    version = read.version;
    if (read.newer)
    {
        auto why = *read.newer;
        why.what += ": it is read only here";
        found.readOnly = why;
        lock.reset();
    }
}

Result<TrialFolder> TrialFolder::create(const fs::path& folder, const std::string& name)
{
    std::error_code error;
    if (fs::exists(folder, error) && !(fs::is_directory(folder, error) && fs::is_empty(folder, error)))
        return Problem{ "exists", "There is something of this name that is not a trial", folder.string(),
                        "Choose another folder" };
    fs::create_directories(folder / "takes", error);
    if (error)
        return Problem{ "cannot-write", "The trial cannot be made (" + error.message() + ")", folder.string(),
                        "Check the disk's space and the folder's permissions" };
    TrialText fresh;
    fresh.json = Json::object();
    fresh.version = trialSchemaVersion;
    fresh.trial.id = newTrialId();
    fresh.trial.name = name;
    fresh.trial.orientations = usualOrientations();
    const auto trial = fresh.trial;
    TrialFolder made(folder, std::move(fresh));
    auto attempt = TrialLock::take(folder);
    made.lock = std::move(attempt.lock);
    made.found.readOnly = attempt.refusal;
    if (attempt.note)
        made.found.notes.push_back(*attempt.note);
    if (auto saved = made.save(trial); !saved)
    {
        fs::remove_all(folder, error);
        return saved.problem();
    }
    return made;
}

Result<TrialFolder> TrialFolder::open(const fs::path& folder, const TrialMigrations& migrations)
{
    auto read = readTrialText(folder, migrations);
    if (!read)
        return read.problem();
    TrialFolder opened(folder, std::move(*read));
    if (!opened.found.readOnly)
    {
        auto attempt = TrialLock::take(folder);
        opened.lock = std::move(attempt.lock);
        opened.found.readOnly = attempt.refusal;
        if (attempt.note)
            opened.found.notes.push_back(*attempt.note);
        read = readTrialText(folder, migrations); // the holder until now may have written since
        if (!read)
            return read.problem();
        opened.takeOver(std::move(*read));
    }
    if (auto done = opened.upgrade(); !done)
        return done.problem();
    auto add = [&](std::vector<Problem> notes)
    { opened.found.notes.insert(opened.found.notes.end(), notes.begin(), notes.end()); };
    if (opened.lock)
    {
        add(reconcileTakes(folder, opened.content));
        sweepUnfinished(folder);
    }
    add(inspectTrialFolder(folder, opened.content));
    return opened;
}

/** What was read from an older version is written as ours, and the old file kept beside. */
Outcome TrialFolder::upgrade()
{
    if (version >= trialSchemaVersion)
        return Done{};
    const auto kept = "trial.json.version-" + std::to_string(version);
    found.notes.push_back(
        { "upgraded", "The trial was written by an older Plumbline and is read as one of today",
          (folder / "trial.json").string(), lock ? "What it was is kept as " + kept : std::string() });
    if (!lock)
        return Done{};
    std::error_code error;
    if (!fs::exists(folder / kept, error))
        if (auto outcome = writeFileWhole(folder / kept, text); !outcome)
            return outcome;
    return save(Trial(content));
}

Outcome TrialFolder::refresh()
{
    constexpr std::size_t mostBytes = 64u << 20;
    const auto now = readTextFile(folder / "trial.json", mostBytes);
    if (!now)
        return now.problem();
    if (*now == text)
        return Done{};
    auto read = readTrialText(folder);
    if (!read)
        return read.problem();
    takeOver(std::move(*read));
    return Done{};
}

Outcome TrialFolder::startWriting()
{
    if (lock)
        return Done{};
    auto now = open(folder);
    if (!now)
        return now.problem();
    *this = std::move(*now);
    return readyToWrite();
}

void TrialFolder::stopWriting()
{
    lock.reset();
}

/** What another's hand changed meanwhile is read first, and a damaged file is not written over. */
Outcome TrialFolder::readyToWrite()
{
    if (lock)
        if (auto fresh = refresh(); !fresh)
            return fresh;
    if (lock)
        return Done{};
    return found.readOnly ? *found.readOnly
                          : Problem{ "read-only-folder", "The trial is read only here", folder.string(), "" };
}

Outcome TrialFolder::save(const Trial& trial)
{
    if (!lock)
        return readyToWrite();
    if (auto fault = faultOf(trial))
        return *fault;
    auto whole = withForeignKeys(stored, toJson(trial));
    auto bytes = toText(whole);
    auto outcome = writeFileWhole(folder / "trial.json", bytes);
    if (outcome)
    {
        content = trial;
        stored = std::move(whole);
        text = std::move(bytes);
        version = trialSchemaVersion;
    }
    return outcome;
}

Outcome TrialFolder::describe(Trial changed)
{
    if (auto ready = readyToWrite(); !ready)
        return ready;
    return save(changed);
}

Result<std::string> TrialFolder::add(TakeRecord record)
{
    if (auto ready = readyToWrite(); !ready)
        return ready.problem();
    record.filing.takeId = newTrialId();
    if (record.filing.when.empty())
        record.filing.when = isoTimeNow();
    auto filed = withTake(content, record.filing);
    if (!filed)
        return filed.problem();
    auto take = NewFolder::begin(folder / "takes" / record.filing.takeId, {}, false);
    if (!take)
        return take.problem();
    if (auto written = writeTakeFiles(take->path(), record, filed->takes.back().setUp); !written)
        return written.problem();
    if (auto kept = take->commit(); !kept)
        return kept.problem();
    if (auto saved = save(*filed); !saved)
    {
        std::error_code error;
        fs::remove_all(folder / "takes" / record.filing.takeId, error);
        return saved.problem();
    }
    return record.filing.takeId;
}

namespace
{

/** The files of one take on their way to another folder of the trial, and back if that is not to be kept. */
class TakeMove
{
public:
    Outcome begin(const fs::path& folder, const char* home, const std::string& id, const fs::path& now)
    {
        std::error_code error;
        from = now;
        to = folder / home / id;
        if (from == to || !fs::exists(from, error))
            return Done{}; // what is not there is named by the report
        fs::create_directories(folder / home, error);
        if (!error && fs::exists(to, error))
            error = std::make_error_code(std::errc::file_exists);
        if (!error)
            fs::rename(from, to, error);
        if (error)
            return Problem{ "cannot-write", "The take cannot be moved (" + error.message() + ")", to.string(),
                            "Check the disk's space and the folder's permissions" };
        moved = true;
        return Done{};
    }

    void takeBack()
    {
        std::error_code error;
        if (moved)
            fs::rename(to, from, error); // if this fails the next opening does it
    }

private:
    fs::path from, to;
    bool moved = false;
};

}

/** The files move first: a process that dies then leaves a trial.json that names the take as it was, and the next
    opening moves them back. */
Result<TrialAct> TrialFolder::act(const TrialAct& wanted)
{
    if (auto ready = readyToWrite(); !ready)
        return ready.problem();
    auto done = plumbline::act(content, wanted);
    if (!done)
        return done.problem();
    TakeMove move;
    Outcome outcome = Done{};
    if (const auto* discard = std::get_if<acts::DiscardTake>(&wanted))
        outcome = move.begin(folder, "discarded", discard->takeId, takeFolder(discard->takeId));
    if (const auto* restore = std::get_if<acts::RestoreTake>(&wanted))
        outcome = move.begin(folder, "takes", restore->takeId, takeFolder(restore->takeId));
    if (outcome)
        outcome = save(done->trial);
    if (outcome)
        return std::move(done->inverse);
    move.takeBack();
    return outcome.problem();
}

fs::path TrialFolder::takeFolder(const std::string& takeId) const
{
    return takeFolderOf(folder, content, takeId);
}

SummaryReading TrialFolder::summaries() const
{
    SummaryReading reading;
    reading.takes.reserve(content.takes.size());
    for (const auto& take : content.takes)
    {
        const auto of = takeFolder(take.id);
        if (auto summary = readSummary(of, mayWrite()))
        {
            reading.takes.push_back(std::move(*summary));
            continue;
        }
        else
        {
            auto problem = summary.problem();
            problem.code = problem.code == "missing" ? "analysis-missing" : "analysis-damaged";
            problem.what = "The analysis of take \"" + take.id + "\" cannot be used: " + problem.what;
            problem.remedy = "Analyse the take again; its capture is kept";
            reading.notes.push_back(std::move(problem));
        }
    }
    return reading;
}

}
