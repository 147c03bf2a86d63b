#include "Files/TrialInspection.h"

#include "Files/TrialFolder.h"

#include <array>
#include <fstream>
#include <set>
#include <string_view>

namespace plumbline
{

namespace fs = std::filesystem;

namespace
{

const auto processBegan = fs::file_time_type::clock::now();

bool existsAt(const fs::path& path)
{
    std::error_code error;
    return fs::exists(path, error);
}

const char* homeOf(const Trial& trial, const std::string& id)
{
    return trial.discardedTake(id) != nullptr ? "discarded" : "takes";
}

const char* otherThan(const char* home)
{
    return std::string_view(home) == "takes" ? "discarded" : "takes";
}

std::string idsWords(const std::string& id)
{
    return "take \"" + id + "\"";
}

/** Whether the first bytes of a WAV and its size agree. */
bool looksWhole(const fs::path& file)
{
    std::array<unsigned char, 12> head{};
    std::ifstream stream(file, std::ios::binary);
    if (!stream.read(reinterpret_cast<char*>(head.data()), head.size()))
        return false;
    const std::string_view text(reinterpret_cast<const char*>(head.data()), head.size());
    if (text.substr(8) != "WAVE" || (text.substr(0, 4) != "RIFF" && text.substr(0, 4) != "RF64"))
        return false;
    const std::uint32_t rest = head[4] | (std::uint32_t(head[5]) << 8) | (std::uint32_t(head[6]) << 16) |
                               (std::uint32_t(head[7]) << 24);
    std::error_code error;
    const auto size = fs::file_size(file, error);
    return !error && (text.substr(0, 4) == "RF64" || size >= std::uint64_t(rest) + 8);
}

/** Where a known take's folder is, and whether it is where it belongs. */
struct TakePlace
{
    fs::path path;
    bool there = true, atHome = true;
};

TakePlace placeOf(const fs::path& folder, const std::string& id, const char* home)
{
    const auto wanted = folder / home / id;
    if (existsAt(wanted))
        return { wanted, true, true };
    const auto other = folder / otherThan(home) / id;
    return existsAt(other) ? TakePlace{ other, true, false } : TakePlace{ wanted, false, true };
}

void inspectTake(const fs::path& folder, const std::string& id, const char* home, std::vector<Problem>& notes)
{
    const auto place = placeOf(folder, id, home);
    auto note = [&](const char* code, const std::string& what, const fs::path& where, const char* remedy) {
        notes.push_back({ code, what, where.string(), remedy });
    };
    if (!place.there)
        return note("take-missing", "The files of " + idsWords(id) + " are not there", place.path,
                    "Put the folder back if you have it elsewhere");
    if (!place.atHome)
        note("take-elsewhere", std::string("The files of ") + idsWords(id) + " are not in \"" + home + '"',
             place.path, "They are read from where they are");
    const auto capture = place.path / "capture.wav";
    if (!existsAt(capture))
        note("capture-missing", "The capture of " + idsWords(id) + " is missing", capture,
             "What was found in it can still be shown; it cannot be analysed again");
    else if (!looksWhole(capture))
        note("capture-damaged", "The capture of " + idsWords(id) + " is damaged", capture,
             "What was found in it can still be shown; it cannot be analysed again");
    if (!existsAt(place.path / "capture.json"))
        note("notes-missing", "What was played for " + idsWords(id) + " is missing",
             place.path / "capture.json", "It cannot be analysed again");
    if (!existsAt(place.path / "analysis.json"))
        note("analysis-missing", "The analysis of " + idsWords(id) + " is missing",
             place.path / "analysis.json", "Analyse the take again");
}

/** Calls for each entry of a folder by its name; a folder that is not there has none. */
template <class Call>
void forEachIn(const fs::path& folder, Call call)
{
    std::error_code error;
    for (auto entry = fs::directory_iterator(folder, error); !error && entry != fs::directory_iterator();
         entry.increment(error))
        call(*entry, entry->path().filename().string());
}

bool isOldTrialText(const std::string& name)
{
    return name.rfind("trial.json.version-", 0) == 0;
}

void inspectStrangers(const fs::path& folder, const std::set<std::string>& ids, std::vector<Problem>& notes)
{
    static const std::set<std::string> top{ "trial.json", "trial.lock", "takes", "discarded" };
    auto unfinished = [&](const fs::path& path)
    {
        notes.push_back({ "unfinished", "This was left unfinished when a program ended", path.string(),
                          "It is not used" });
    };
    auto foreign = [&](const fs::path& path) {
        notes.push_back({ "foreign-file", "This is not the trial's", path.string(), "It is left alone" });
    };
    forEachIn(folder,
              [&](const fs::directory_entry& entry, const std::string& name)
              {
                  if (isUnfinishedName(name))
                      unfinished(entry.path());
                  else if (!top.contains(name) && !isOldTrialText(name))
                      foreign(entry.path());
              });
    for (const char* place : { "takes", "discarded" })
        forEachIn(folder / place,
                  [&](const fs::directory_entry& entry, const std::string& name)
                  {
                      if (isUnfinishedName(name))
                          unfinished(entry.path());
                      else if (ids.contains(name))
                          return;
                      else if (existsAt(entry.path() / "capture.wav"))
                          notes.push_back({ "orphan-take", "This take is in no list of the trial",
                                            entry.path().string(), "It counts nowhere and is left alone" });
                      else
                          foreign(entry.path());
                  });
}

void bringHome(const fs::path& folder, const std::string& id, const char* home, std::vector<Problem>& notes)
{
    const auto place = placeOf(folder, id, home);
    if (place.atHome)
        return;
    std::error_code error;
    fs::create_directories(folder / home, error);
    fs::rename(place.path, folder / home / id, error);
    if (!error)
        notes.push_back(
            { "take-moved-back",
              "The files of " + idsWords(id) + " were not where the trial has them, and were moved there",
              (folder / home / id).string(), "" });
}

}

bool isUnfinishedName(const std::string& name)
{
    const auto at = name.rfind(".unfinished-");
    return at != std::string::npos && at > 0 && name.size() == at + 20 &&
           name.find_first_not_of("0123456789abcdef", at + 12) == std::string::npos;
}

std::vector<Problem> inspectTrialFolder(const fs::path& folder, const Trial& trial)
{
    std::vector<Problem> notes;
    std::set<std::string> ids;
    for (const auto& take : trial.takes)
    {
        ids.insert(take.id);
        inspectTake(folder, take.id, "takes", notes);
    }
    for (const auto& take : trial.discarded)
    {
        ids.insert(take.entry.id);
        inspectTake(folder, take.entry.id, "discarded", notes);
    }
    inspectStrangers(folder, ids, notes);
    return notes;
}

fs::path takeFolderOf(const fs::path& folder, const Trial& trial, const std::string& id)
{
    return placeOf(folder, id, homeOf(trial, id)).path;
}

std::vector<Problem> reconcileTakes(const fs::path& folder, const Trial& trial)
{
    std::vector<Problem> notes;
    for (const auto& take : trial.takes)
        bringHome(folder, take.id, "takes", notes);
    for (const auto& take : trial.discarded)
        bringHome(folder, take.entry.id, "discarded", notes);
    return notes;
}

namespace
{
/** Whether a leftover holds nothing but what this program writes. */
bool holdsOursAlone(const fs::directory_entry& leftover)
{
    std::error_code error;
    if (leftover.is_symlink(error))
        return false;
    auto isOurFile = [&](const fs::directory_entry& entry)
    {
        const auto name = entry.path().filename().string();
        const auto stem = isUnfinishedName(name) ? name.substr(0, name.rfind(".unfinished-")) : name;
        return entry.is_regular_file(error) && TrialFolder::contents().contains(stem);
    };
    if (!leftover.is_directory(error))
        return isOurFile(leftover);
    bool ours = true;
    forEachIn(leftover.path(),
              [&](const fs::directory_entry& entry, const std::string&) { ours = ours && isOurFile(entry); });
    return ours;
}
}

void sweepUnfinished(const fs::path& folder)
{
    std::vector<fs::path> leftovers;
    for (const auto& place : { folder, folder / "takes" })
        forEachIn(place,
                  [&](const fs::directory_entry& entry, const std::string& name)
                  {
                      std::error_code error;
                      if (isUnfinishedName(name) && fs::last_write_time(entry.path(), error) < processBegan &&
                          !error && holdsOursAlone(entry))
                          leftovers.push_back(entry.path());
                  });
    std::error_code error;
    for (const auto& leftover : leftovers)
        fs::remove_all(leftover, error);
}

}
