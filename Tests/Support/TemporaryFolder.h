#pragma once

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>
#include <stdexcept>
#include <string>

namespace plumbline::test
{

/** A new, empty folder under the system's folder for temporary things, removed at the end with all it holds.
    */
class TemporaryFolder
{
public:
    TemporaryFolder()
    {
        auto name = (std::filesystem::temp_directory_path() / "plumbline-test-XXXXXX").string();
        if (mkdtemp(name.data()) == nullptr)
            throw std::runtime_error("no temporary folder can be made");
        folder = name;
    }

    ~TemporaryFolder()
    {
        std::error_code error;
        std::filesystem::remove_all(folder, error);
    }

    TemporaryFolder(const TemporaryFolder&) = delete;
    TemporaryFolder& operator=(const TemporaryFolder&) = delete;

    const std::filesystem::path& path() const noexcept { return folder; }

    std::filesystem::path operator/(const std::string& name) const { return folder / name; }

private:
    std::filesystem::path folder;
};

/** Writes a new file in the place of an old one: many file systems flush one that is cut to nought and
    written again. */
inline void writeBytes(const std::filesystem::path& file, const std::string& bytes)
{
    std::error_code error;
    if (std::filesystem::is_regular_file(file, error))
        std::filesystem::remove(file, error);
    std::ofstream stream(file, std::ios::binary | std::ios::trunc);
    stream.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    if (!stream.flush())
        throw std::runtime_error("cannot write " + file.string());
}

inline std::string readBytes(const std::filesystem::path& file)
{
    std::ifstream stream(file, std::ios::binary);
    if (!stream)
        throw std::runtime_error("cannot read " + file.string());
    return { std::istreambuf_iterator<char>(stream), {} };
}

/** Names of what a folder holds, itself only. */
inline std::set<std::string> namesIn(const std::filesystem::path& folder)
{
    std::set<std::string> names;
    for (const auto& entry : std::filesystem::directory_iterator(folder))
        names.insert(entry.path().filename().string());
    return names;
}

}
