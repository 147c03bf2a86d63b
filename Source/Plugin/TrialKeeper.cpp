#include "Plugin/TrialKeeper.h"

#include "Files/StoredAnalysis.h"
#include "Plugin/TakeWords.h"
#include "Trial/TrialEdits.h"

#include <algorithm>

namespace plumbline
{

namespace fs = std::filesystem;

namespace
{

/** A name as a folder's: what a file system may not take becomes a hyphen. */
std::string folderName(const std::string& name)
{
    std::string safe;
    for (const char c : name)
        safe += std::string("/\\:*?\"<>|").find(c) != std::string::npos || static_cast<unsigned char>(c) < 32
                    ? '-'
                    : c;
    while (!safe.empty() && (safe.back() == '.' || safe.back() == ' '))
        safe.pop_back();
    return safe.empty() ? "Trial" : safe;
}

/** `parent`/`name`, or with a number behind it where that is there already. */
fs::path freeFolder(const fs::path& parent, const std::string& name)
{
    std::error_code error;
    auto wanted = parent / folderName(name);
    for (int number = 2; fs::exists(wanted, error); ++number)
        wanted = parent / (folderName(name) + " " + std::to_string(number));
    return wanted;
}

/** What a monitor is called after it was described anew: the one whose name was not there before. */
std::string nameNow(const Trial& after, const Trial& before, const std::string& former)
{
    for (const auto& monitor : after.monitors)
        if (std::none_of(before.monitors.begin(), before.monitors.end(),
                         [&](const Monitor& m) { return m.name == monitor.name; }))
            return monitor.name;
    return former;
}

Trial emptyTrial()
{
    Trial trial;
    trial.orientations = usualOrientations();
    return trial;
}

int ordinalOf(const Trial& trial, const TakeEntry& entry)
{
    int ordinal = 0;
    for (const auto& other : trial.takes)
    {
        ordinal += other.setUp == entry.setUp;
        if (other.id == entry.id)
            break;
    }
    return ordinal;
}

}

TrialKeeper::TrialKeeper() : unfiled(std::make_shared<const Trial>(emptyTrial()))
{
}

void TrialKeeper::takeOver(TrialFolder opened)
{
    folder.emplace(std::move(opened));
    missing = {};
    place = folder->mayWrite() ? TrialView::Place::folder : TrialView::Place::readOnly;
    standing = {};
    lifted.clear();
    untold.clear();
    curves.clear();
    loadCurves();
}

Outcome TrialKeeper::create(const std::string& name, const fs::path& parent)
{
    if (name.find_first_not_of(" \t") == std::string::npos)
        return Problem{ "no-name", "A trial needs a name", "", "Type one" };
    if (auto made = makeFolder(name, parent); !made)
        return made;
    return writeHeldTakes();
}

/** A trial without a folder goes on in the new one; from one that has a folder, a new trial begins. */
Outcome TrialKeeper::makeFolder(const std::string& name, const fs::path& parent)
{
    const bool goesOn = !folder;
    const auto stood = goesOn ? standing : StandingPair{};
    const auto liftedBefore = goesOn ? lifted : std::map<std::string, int>{};
    Trial told = goesOn ? trial() : emptyTrial();
    auto made = TrialFolder::create(freeFolder(parent, name), name);
    if (!made)
        return made.problem();
    told.id = made->trial().id;
    told.name = name;
    told.takes.clear(); // those that are held are filed anew
    told.setUps.clear();
    told.stances.clear();
    if (auto described = made->describe(told); !described)
        return described;
    takeOver(std::move(*made));
    standing = stood;
    lifted = liftedBefore;
    return Done{};
}

namespace
{
Problem takesOnlyInMemory(const std::string& where)
{
    return { "takes-in-memory", "There are takes that are only in memory", where,
             "Save them in a folder first" };
}
}

Outcome TrialKeeper::close()
{
    if (!held.empty())
        return takesOnlyInMemory(missing.folder);
    folder.reset();
    unfiled = std::make_shared<const Trial>(emptyTrial());
    missing = {};
    place = TrialView::Place::unnamed;
    standing = {};
    lifted.clear();
    untold.clear();
    curves.clear();
    return Done{};
}

/** Opens a trial; if it is the one that is open, that does not stand in its own way. */
Result<TrialFolder> TrialKeeper::openAt(const fs::path& where)
{
    std::error_code error;
    const bool same = folder && fs::equivalent(where, folder->path(), error);
    if (same)
        folder->stopWriting();
    auto opened = TrialFolder::open(where);
    if (same && !opened)
        static_cast<void>(folder->startWriting()); // it stays as it was
    return opened;
}

Outcome TrialKeeper::open(const fs::path& where)
{
    if (!held.empty())
        return takesOnlyInMemory(where.string());
    auto opened = openAt(where);
    if (!opened)
        return opened.problem();
    takeOver(std::move(*opened));
    return Done{};
}

std::vector<Problem> TrialKeeper::openNotes() const
{
    if (!folder)
        return {};
    auto notes = folder->report().notes;
    if (!folder->mayWrite() && folder->report().readOnly)
        notes.insert(notes.begin(), *folder->report().readOnly);
    return notes;
}

Outcome TrialKeeper::find(const TrialIdentity& identity)
{
    if (!held.empty())
        return takesOnlyInMemory(identity.folder);
    auto opened = openAt(identity.folder);
    if (opened && (identity.id.empty() || opened->trial().id == identity.id))
    {
        takeOver(std::move(*opened));
        return Done{};
    }
    static_cast<void>(close());
    missing = identity;
    place = TrialView::Place::missing;
    return Problem{ "trial-missing",
                    opened ? "Another trial is where this session's was"
                           : "This session's trial is not there",
                    identity.folder,
                    "Open it from where it is now; takes of today go into a new trial until then" };
}

Outcome TrialKeeper::saveIn(const fs::path& parent)
{
    const auto name = trial().name;
    return create(name.empty() ? "Trial" : name, parent);
}

TrialIdentity TrialKeeper::identity() const
{
    return folder ? TrialIdentity{ folder->trial().id, folder->path().string() } : missing;
}

/** Another instance may have filed takes since this one read: what is told is told of the trial as it is now. */
void TrialKeeper::readAgain()
{
    if (!folder)
        return;
    const bool writes = folder->startWriting().ok();
    if (!writes)
        static_cast<void>(folder->refresh()); // what cannot be read is said when it is written
    place = writes ? TrialView::Place::folder : TrialView::Place::readOnly;
}

Outcome TrialKeeper::change(Result<Trial> changed)
{
    if (!changed)
        return changed.problem();
    if (folder)
        return folder->describe(std::move(*changed));
    unfiled = std::make_shared<const Trial>(std::move(*changed));
    return Done{};
}

Outcome TrialKeeper::describe(const std::string& formerMonitor, const Monitor& monitor)
{
    readAgain();
    auto changed = withMonitor(trial(), formerMonitor, monitor);
    const auto name = changed && !formerMonitor.empty() ? nameNow(*changed, trial(), formerMonitor) : "";
    auto outcome = change(std::move(changed));
    if (!outcome)
        return outcome;
    if (!folder)
        untold.emplace_back(formerMonitor, monitor);
    if (!name.empty() && name != formerMonitor)
        rename(formerMonitor, name);
    return outcome;
}

/** What this instance keeps under the pair's name goes with it. */
void TrialKeeper::rename(const std::string& former, const std::string& name)
{
    auto renamed = [&](const std::string& stanceName)
    {
        const auto stance = parseStance(stanceName);
        return stance && stance->monitor == former ? Stance{ name, stance->orientation }.name() : stanceName;
    };
    standing.stance = renamed(standing.stance);
    std::map<std::string, StanceCurves> drawn;
    for (auto& [stance, its] : curves)
        drawn[renamed(stance)] = its;
    curves = std::move(drawn);
    std::map<std::string, int> stood;
    for (const auto& [stance, number] : lifted)
        stood[renamed(stance)] = number;
    lifted = std::move(stood);
    for (auto& record : held)
        if (record.filing.stance.monitor == former)
            record.filing.stance.monitor = name;
}

Outcome TrialKeeper::nameTrial(const std::string& name)
{
    readAgain();
    auto changed = trial();
    changed.name = name;
    return change(std::move(changed));
}

void TrialKeeper::standHere(const std::string& stance, int setUp)
{
    if (stance == standing.stance && setUp == 0)
        return;
    const auto told = lifted.find(stance);
    const int number = told == lifted.end() ? standingSetUp(trial(), stance) : told->second;
    standing = { stance, setUp > 0 ? setUp : number };
}

void TrialKeeper::standAgain()
{
    standing.setUp = std::max(standing.setUp, nextSetUp(trial(), standing.stance) - 1) + 1;
    lifted[standing.stance] = standing.setUp;
}

Monitor::Kind TrialKeeper::hereKind() const
{
    if (const auto stance = parseStance(standing.stance))
        for (const auto& monitor : trial().monitors)
            if (monitor.name == stance->monitor)
                return monitor.kind;
    return Monitor::Kind::pair;
}

int TrialKeeper::takesHere() const
{
    const auto* setUp = trial().setUpOf(standing.stance, standing.setUp);
    int count = 0;
    for (const auto& take : trial().takes)
        count += setUp != nullptr && take.setUp == setUp->id;
    return count;
}

Outcome TrialKeeper::file(const StandingPair& stood, Capture capture, TakeAnalysis analysis,
                          const fs::path& trialsFolder)
{
    auto stance = parseStance(stood.stance);
    if (!stance)
        return stance.problem();
    TakeRecord record{ std::move(capture), std::move(analysis), {} };
    record.filing.stance = *stance;
    record.filing.kind = record.analysis.right ? Monitor::Kind::pair : Monitor::Kind::single;
    record.filing.setUpOrdinal = stood.setUp;
    record.filing.when = isoTimeNow();
    record.filing.doubtful = record.analysis.doubtful();
    record.filing.reason = doubtsOf(record.analysis.faults);
    held.push_back(std::move(record)); // nothing is lost, whatever happens next
    if (const auto told = lifted.find(stood.stance); told != lifted.end() && told->second <= stood.setUp)
        lifted.erase(told);
    auto outcome = ensureFolder(trialsFolder);
    if (outcome)
        outcome = writeHeldTakes();
    return outcome ? outcome : keepInMemory(outcome.problem());
}

/** The folder that could not be written may be there again; what was told meanwhile is told now. */
Outcome TrialKeeper::returnTo(const TrialIdentity& former)
{
    auto opened = TrialFolder::open(former.folder);
    if (!opened)
        return opened.problem();
    if (opened->trial().id != former.id)
        return Problem{ "another-trial", "Another trial is where this one was", former.folder,
                        "Save this one in another folder" };
    if (!opened->mayWrite())
        return *opened->report().readOnly;
    Trial told = opened->trial();
    for (const auto& [formerName, monitor] : untold)
        if (auto with = withMonitor(told, formerName, monitor))
            told = std::move(*with);
    if (auto described = opened->describe(std::move(told)); !described)
        return described;
    folder.emplace(std::move(*opened));
    untold.clear();
    missing = {};
    place = TrialView::Place::folder;
    return Done{};
}

Outcome TrialKeeper::ensureFolder(const fs::path& trialsFolder)
{
    if (folder)
    {
        if (auto writes = folder->startWriting(); !writes)
            return writes;
        place = TrialView::Place::folder;
        return Done{};
    }
    if (place == TrialView::Place::memory && !missing.folder.empty())
        return returnTo(missing);
    const auto name = trial().name.empty() ? "Trial " + isoTimeNow().substr(0, 10) : trial().name;
    return makeFolder(name, trialsFolder);
}

/** The trial as it would be with the takes that are held, and why they are. */
Outcome TrialKeeper::keepInMemory(const Problem& why)
{
    Trial shown = trial();
    for (std::size_t i = 0; i < held.size(); ++i)
    {
        auto filing = held[i].filing;
        filing.takeId = "in memory " + std::to_string(i + 1);
        if (auto with = withTake(shown, filing))
            shown = std::move(*with);
    }
    if (folder)
        missing = identity();
    else if (place != TrialView::Place::memory)
        missing = {};
    folder.reset();
    place = TrialView::Place::memory; // of one that is read only too: it is written when the other is gone
    unfiled = std::make_shared<const Trial>(std::move(shown));
    if (!unfiled->takes.empty())
        show(unfiled->takes.back(), curvesOf(held.back().analysis));
    return Problem{ "kept-in-memory", "The take is kept in memory only: " + why.what, why.where,
                    "Save the trial in another folder before you close the session" };
}

Outcome TrialKeeper::writeHeldTakes()
{
    for (; !held.empty(); held.erase(held.begin()))
    {
        if (auto id = folder->add(held.front()); !id)
            return id.problem();
        show(folder->trial().takes.back(), curvesOf(held.front().analysis));
    }
    return Done{};
}

void TrialKeeper::loadCurves()
{
    // The newest take of a stance and the one before it: no other is read.
    std::map<std::string, std::vector<const TakeEntry*>> newest;
    const auto& content = folder->trial();
    for (auto take = content.takes.rbegin(); take != content.takes.rend(); ++take)
        if (const auto* setUp = content.setUp(take->setUp))
            if (auto& list = newest[setUp->stance]; list.size() < 2)
                list.push_back(&*take);
    for (auto& [stance, takes] : newest)
        for (auto take = takes.rbegin(); take != takes.rend(); ++take)
            if (auto stored = readStoredAnalysis(folder->takeFolder((*take)->id) / "analysis.json"))
                show(**take, curvesOf(std::move(*stored)));
}

void TrialKeeper::show(const TakeEntry& entry, TakeCurves drawn)
{
    const auto* setUp = trial().setUp(entry.setUp);
    if (setUp == nullptr)
        return;
    drawn.takeId = folder ? entry.id : std::string();
    drawn.setUp = setUp->number;
    drawn.take = ordinalOf(trial(), entry);
    auto& stance = curves[setUp->stance];
    stance.before = stance.newest;
    stance.newest = std::make_shared<const TakeCurves>(std::move(drawn));
}

TrialView TrialKeeper::view() const
{
    TrialView seen;
    seen.place = place;
    seen.folder = folder ? folder->path().string() : missing.folder;
    seen.trial = std::make_shared<const Trial>(trial());
    seen.hereNow = standing.stance;
    seen.hereSetUp = standing.setUp;
    seen.curves = curves;
    seen.takesInMemory = static_cast<int>(held.size());
    return seen;
}

}
