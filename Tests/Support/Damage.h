#pragma once

#include "Dsp/Random.h"
#include "Support/ChildProcess.h"

#include <array>
#include <atomic>
#include <functional>
#include <string>
#include <string_view>
#include <sys/mman.h>

namespace plumbline::test
{

/** A damaged copy of a file, the same for the same seed: bits flipped, digits and bytes changed, a value
    replaced, a part left out, doubled or cut off. Most of the damage is done in the first `focus` bytes. */
inline std::string damagedCopy(std::string bytes, std::uint64_t seed, std::size_t focus)
{
    static const std::array<std::string, 14> values{ "null",   "-1",    "0",   "1e308", "-1e308",
                                                     "1e-320", "\"x\"", "[]",  "{}",    "true",
                                                     "1e999",  "NaN",   "0.5", "[[[[" };
    Random random(seed);
    auto below = [&](std::size_t count) { return static_cast<std::size_t>(random.bits() % count); };
    auto place = [&] { return below(below(4) == 0 ? bytes.size() : std::min(focus, bytes.size())); };
    for (std::size_t n = 1 + below(3); n > 0 && !bytes.empty(); --n)
    {
        const auto at = place();
        switch (below(6))
        {
        case 0:
            bytes[at] = static_cast<char>(bytes[at] ^ (1 << below(8)));
            break;
        case 1:
            bytes[at] = static_cast<char>(below(256));
            break;
        case 2: // the next number or word becomes another value
        {
            const auto start = bytes.find_first_of("-0123456789\"", at);
            const auto end = start == std::string::npos ? start : bytes.find_first_of(",\n}] ", start + 1);
            if (end != std::string::npos)
                bytes.replace(start, end - start, values[below(values.size())]);
            break;
        }
        case 3: // the next digit becomes another
        {
            const auto digit = bytes.find_first_of("0123456789", at);
            if (digit != std::string::npos)
                bytes[digit] = static_cast<char>('0' + below(10));
            break;
        }
        case 4:
            bytes.erase(at, 1 + below(8));
            break;
        default:
            if (below(2) == 0)
                bytes.resize(at);
            else
                bytes.insert(at, bytes.substr(at, 1 + below(32)));
        }
    }
    return bytes;
}

/** What became of many damaged copies. */
struct DamageReport
{
    /** Which copy did what it must not, by its seed; empty if every one was taken or refused. */
    std::string failure;
    std::size_t taken = 0, refused = 0;
};

/** Gives damaged copies of a good file to `take`, in a child process; it tells whether a copy was taken. One
    that makes it throw, crash or hang is named. */
inline DamageReport takeDamagedCopies(const std::string& good, std::size_t count,
                                      const std::function<bool(const std::string&)>& take,
                                      std::size_t focus = std::string::npos, unsigned limitSeconds = 60)
{
    struct Shared
    {
        std::atomic<std::size_t> seed, taken, refused;
        std::array<char, 256> thrown;
    };

    void* const memory =
        mmap(nullptr, sizeof(Shared), PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0);
    auto& shared = *new (memory) Shared{};
    const auto work = [&]
    {
        try
        {
            for (std::size_t seed = 1; seed <= count; ++seed)
            {
                shared.seed = seed;
                ++(take(damagedCopy(good, seed, focus)) ? shared.taken : shared.refused);
            }
        }
        catch (const std::exception& error)
        {
            std::string_view(error.what())
                .substr(0, shared.thrown.size() - 1)
                .copy(shared.thrown.data(), 255);
            throw;
        }
        return 0;
    };
    const auto end = runInChild(work, limitSeconds);
    DamageReport report{ {}, shared.taken, shared.refused };
    if (end.exit != 0)
        report.failure =
            "copy " + std::to_string(shared.seed) +
            (end.exit == childThrew ? " threw: " + std::string(shared.thrown.data()) : ": " + end.words());
    munmap(memory, sizeof(Shared));
    return report;
}

}
