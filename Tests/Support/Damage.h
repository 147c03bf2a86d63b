#pragma once

#include "Dsp/Random.h"
#include "Support/ChildProcess.h"

#include <array>
#include <atomic>
#include <functional>
#include <string>
#include <sys/mman.h>

namespace plumbline::test
{

/** A damaged copy of a file, the same for the same seed: bits flipped, digits and bytes changed, a value replaced, a part
    left out, doubled or cut off. Most of the damage is done in the first `focus` bytes. */
inline std::string damagedCopy(std::string bytes, std::uint64_t seed, std::size_t focus)
{
    static const std::array<std::string, 14> values { "null", "-1",   "0",     "1e308", "-1e308", "1e-320", "\"x\"",
                                                      "[]",   "{}",   "true",  "1e999", "NaN",    "0.5",    "[[[[" };
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
    std::string failure; ///< empty if every copy was taken or refused in order; else which copy and how it ended
    std::size_t taken = 0, refused = 0;
};

/** Gives damaged copies of a good file to `take`, in a child process; it tells whether a copy was taken. A copy that makes
    it throw, crash or hang is named by its seed. */
inline DamageReport takeDamagedCopies(const std::string& good, std::size_t count,
                                      const std::function<bool(const std::string&)>& take,
                                      std::size_t focus = std::string::npos, unsigned limitSeconds = 60)
{
    using Counts = std::array<std::atomic<std::size_t>, 3>; // copies begun, taken, refused
    void* const memory = mmap(nullptr, sizeof(Counts), PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0);
    auto& counts = *new (memory) Counts {};
    const auto end = runInChild(
        [&]
        {
            for (std::size_t seed = 1; seed <= count; ++seed)
            {
                counts[0] = seed;
                ++counts[take(damagedCopy(good, seed, focus)) ? 1 : 2];
            }
            return 0;
        },
        limitSeconds);
    DamageReport report { {}, counts[1], counts[2] };
    if (end.exit != 0)
        report.failure = "damaged copy " + std::to_string(counts[0]) +
                         (end.exit == childThrew ? ": it threw" : ": " + end.words());
    munmap(memory, sizeof(Counts));
    return report;
}

}
