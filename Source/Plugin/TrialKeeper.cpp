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
    here.clear();
    hereNumber = 1;
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

/** A trial that had no folder yet goes on in the new one; from one that has, a new trial begins. */
Outcome TrialKeeper::makeFolder(const std::string& name, const fs::path& parent)
{
    const bool goesOn = place == TrialView::Place::unnamed || place == TrialView::Place::memory;
    const auto hereBefore = goesOn ? here : std::string();
    const auto numberBefore = goesOn ? hereNumber : 1;
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
    here = hereBefore;
    hereNumber = numberBefore;
    return Done{};
}

Outcome TrialKeeper::open(const fs::path& where)
{
    if (!held.empty())
        return Problem{ "takes-in-memory", "There are takes that are only in memory", where.string(),
                        "Save them in a folder first" };
    auto opened = TrialFolder::open(where);
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
    auto opened = TrialFolder::open(identity.folder);
    if (opened && (identity.id.empty() || opened->trial().id == identity.id))
    {
        takeOver(std::move(*opened));
        return Done{};
    }
    folder.reset();
    unfiled = std::make_shared<const Trial>(emptyTrial());
    curves.clear();
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
    auto outcome = change(withMonitor(trial(), formerMonitor, monitor));
    if (!outcome || formerMonitor.empty() || formerMonitor == monitor.name)
        return outcome;
    if (const auto stance = parseStance(here); stance && stance->monitor == formerMonitor)
        here = Stance{ monitor.name, stance->orientation }.name();
    std::map<std::string, StanceCurves> renamed;
    for (auto& [name, drawn] : curves)
    {
        const auto stance = parseStance(name);
        const bool its = stance && stance->monitor == formerMonitor;
        renamed[its ? Stance{ monitor.name, stance->orientation }.name() : name] = drawn;
    }
    curves = std::move(renamed);
    return outcome;
}

Outcome TrialKeeper::nameTrial(const std::string& name)
{
    auto changed = trial();
    changed.name = name;
    return change(std::move(changed));
}

void TrialKeeper::standHere(const std::string& stance, int setUp)
{
    if (stance == here && setUp == 0)
        return;
    here = stance;
    hereNumber = setUp > 0 ? setUp : standingSetUp(trial(), stance);
}

void TrialKeeper::standAgain()
{
    hereNumber = std::max(hereNumber, nextSetUp(trial(), here) - 1) + 1;
}

Monitor::Kind TrialKeeper::hereKind() const
{
    if (const auto stance = parseStance(here))
        for (const auto& monitor : trial().monitors)
            if (monitor.name == stance->monitor)
                return monitor.kind;
    return Monitor::Kind::pair;
}

int TrialKeeper::takesHere() const
{
    const auto* setUp = trial().setUpOf(here, hereNumber);
    int count = 0;
    for (const auto& take : trial().takes)
        count += setUp != nullptr && take.setUp == setUp->id;
    return count;
}

Outcome TrialKeeper::file(Capture capture, TakeAnalysis analysis, const fs::path& trialsFolder)
{
    auto stance = parseStance(here);
    if (!stance)
        return stance.problem();
    TakeRecord record{ std::move(capture), std::move(analysis), {} };
    record.filing.stance = *stance;
    record.filing.kind = record.analysis.right ? Monitor::Kind::pair : Monitor::Kind::single;
    record.filing.setUpOrdinal = hereNumber;
    record.filing.when = isoTimeNow();
    record.filing.doubtful = record.analysis.doubtful();
    record.filing.reason = doubtsOf(record.analysis.faults);
    held.push_back(std::move(record)); // nothing is lost, whatever happens next
    auto outcome = ensureFolder(trialsFolder);
    if (outcome)
        outcome = writeHeldTakes();
    return outcome ? outcome : keepInMemory(outcome.problem());
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
    {
        auto opened = TrialFolder::open(missing.folder); // it may be there again
        if (!opened)
            return opened.problem();
        if (!opened->mayWrite())
            return *opened->report().readOnly;
        folder.emplace(std::move(*opened));
        place = TrialView::Place::folder;
        return Done{};
    }
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
    missing = identity();
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
    seen.hereNow = here;
    seen.hereSetUp = hereNumber;
    seen.curves = curves;
    seen.takesInMemory = static_cast<int>(held.size());
    return seen;
}

}
