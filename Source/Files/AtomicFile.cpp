#include "Files/AtomicFile.h"

#include "Files/Json.h"

#include <juce_core/juce_core.h>

namespace plumbline
{

namespace fs = std::filesystem;

namespace
{

Problem cannotWrite(const fs::path& where, const std::string& why)
{
    return { "cannot-write", "This cannot be written (" + why + ")", where.string(),
             "Check the disk's space and the folder's permissions" };
}

fs::path besideName(const fs::path& wanted)
{
    auto name = wanted;
    name += ".unfinished-" + juce::Uuid().toString().substring(0, 8).toStdString();
    return name;
}

/** A trailing slash would make the file name empty. */
fs::path withoutSlash(const fs::path& path)
{
    return path.has_filename() ? path : path.parent_path();
}

/** Writes and flushes to the disk; the words of the system if that failed, empty otherwise. The size is
    looked at afterwards, since a stream that could write only a part does not always say so. */
std::string writeAndFlush(const fs::path& file, const std::string& bytes)
{
    {
        juce::FileOutputStream stream(
            juce::File(juce::String::fromUTF8(fs::absolute(file).string().c_str())));
        if (stream.failedToOpen())
            return stream.getStatus().getErrorMessage().toStdString();
        stream.write(bytes.data(), bytes.size());
        stream.flush();
        if (stream.getStatus().failed())
            return stream.getStatus().getErrorMessage().toStdString();
    }
    std::error_code error;
    return fs::file_size(file, error) == bytes.size() && !error ? "" : "the disk took only a part";
}

std::optional<Problem> refusalToReplace(const fs::path& folder, const NewFolder::Known& known)
{
    auto refusal = [&](const std::string& why)
    {
        return Problem{ "exists", "This folder is not replaced: " + why, folder.string(),
                        "Choose another folder" };
    };
    const auto text = readTextFile(folder / known.mainFile, 64u << 20);
    const auto value = text ? Json::parse(*text, nullptr, false) : Json();
    const bool ours = value.is_object() && value.contains("schema") && value["schema"].is_string() &&
                      value["schema"].get<std::string>().rfind(known.schemaStem, 0) == 0;
    if (!ours)
        return refusal("it was not written by this program");
    std::error_code error;
    auto entry = fs::recursive_directory_iterator(folder, error);
    for (; !error && entry != fs::recursive_directory_iterator(); entry.increment(error))
        if ((entry.depth() == 0 || !entry->is_directory()) &&
            !known.contents.contains(entry->path().filename().string()))
            return refusal("it holds \"" + entry->path().filename().string() +
                           "\", which this program did not write");
    if (error)
        return refusal("it cannot be looked through (" + error.message() + ")");
    return std::nullopt;
}

}

Outcome writeFileWhole(const fs::path& file, const std::string& bytes)
{
    std::error_code error;
    if (fs::is_directory(file, error))
        return Problem{ "is-a-folder", "There is a folder of this name", file.string(),
                        "Choose another name" };
    const auto temporary = besideName(file);
    const auto failure = writeAndFlush(temporary, bytes);
    if (failure.empty())
        fs::rename(temporary, file, error);
    if (failure.empty() && !error)
        return Done{};
    const auto why = failure.empty() ? error.message() : failure;
    fs::remove(temporary, error);
    return cannotWrite(file, why);
}

NewFolder::NewFolder(fs::path wantedPath, fs::path temporaryPath, fs::path firstMadePath, bool mayReplace)
    : wanted(std::move(wantedPath)), temporary(std::move(temporaryPath)), firstMade(std::move(firstMadePath)),
      replacing(mayReplace)
{
}

NewFolder::NewFolder(NewFolder&& other) noexcept
    : wanted(std::move(other.wanted)), temporary(std::move(other.temporary)),
      firstMade(std::move(other.firstMade)), replacing(other.replacing)
{
    other.temporary.clear();
}

NewFolder::~NewFolder()
{
    std::error_code error;
    if (temporary.empty())
        return;
    fs::remove_all(temporary, error);
    if (!firstMade.empty()) // folders made above go too, as far as they are empty
        for (auto folder = temporary.parent_path(); fs::remove(folder, error) && folder != firstMade;)
            folder = folder.parent_path();
}

namespace
{
/** The topmost of the folders above that is not there yet; empty if all are. */
fs::path firstMissingAbove(const fs::path& path)
{
    std::error_code error;
    fs::path missing;
    for (auto folder = path.parent_path(); !folder.empty() && !fs::exists(folder, error);
         folder = folder.parent_path())
        missing = folder;
    return missing;
}
}

Result<NewFolder> NewFolder::begin(const fs::path& asked, const Known& known, bool replace)
{
    const auto wanted = withoutSlash(asked);
    std::error_code error;
    const bool there = fs::exists(wanted, error);
    if (there)
    {
        if (!replace)
            return Problem{ "exists", "This is there already", wanted.string(),
                            "Choose another folder, or say --replace" };
        if (!fs::is_directory(wanted, error))
            return Problem{ "exists", "This is a file, not a folder", wanted.string(),
                            "Choose another folder" };
        if (auto refusal = refusalToReplace(wanted, known))
            return *refusal;
    }
    const auto firstMade = firstMissingAbove(wanted);
    if (!firstMade.empty())
        fs::create_directories(wanted.parent_path(), error);
    NewFolder made(wanted, besideName(wanted), firstMade, there);
    if (error || !fs::create_directory(made.temporary, error))
        return cannotWrite(wanted, error.message());
    return made;
}

Outcome NewFolder::commit()
{
    std::error_code error;
    const auto old = besideName(wanted);
    if (replacing)
        fs::rename(wanted, old, error);
    else if (fs::exists(wanted, error))
        return Problem{ "exists", "Something took this name meanwhile", wanted.string(),
                        "Choose another folder" };
    if (!error)
        fs::rename(temporary, wanted, error);
    if (error)
    {
        const auto why = error.message();
        if (replacing && !fs::exists(wanted, error))
            fs::rename(old, wanted, error);
        return cannotWrite(wanted, why);
    }
    temporary.clear();
    if (replacing)
        fs::remove_all(old, error);
    return Done{};
}

}
