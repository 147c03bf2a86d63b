#include "Editor/Figures.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace plumbline
{

namespace
{
struct OtherUnit
{
    const char* typed;
    const char* meant;
    double factor;
};

constexpr std::array otherUnits{ OtherUnit{ "Hz", "kHz", 0.001 }, OtherUnit{ "mm", "cm", 0.1 },
                                 OtherUnit{ "m", "cm", 100.0 }, OtherUnit{ "ms", "s", 0.001 },
                                 OtherUnit{ "dB", "dBFS", 1.0 } };

/** What one of the typed unit is in the unit meant; nothing if that is no unit of this figure. */
std::optional<double> factorOf(const juce::String& typed, const juce::String& meant)
{
    if (typed.isEmpty() || typed.equalsIgnoreCase(meant))
        return 1.0;
    for (const auto& other : otherUnits)
        if (typed.equalsIgnoreCase(other.typed) && meant == other.meant)
            return other.factor;
    return std::nullopt;
}

std::optional<double> numberIn(const juce::String& words)
{
    const auto digits = words.trimCharactersAtStart("+-");
    const bool plain = digits.containsOnly("0123456789.") && digits.containsAnyOf("0123456789") &&
                       digits.indexOfChar('.') == digits.lastIndexOfChar('.') &&
                       words.length() - digits.length() <= 1 && digits.length() <= 12;
    return plain ? std::optional(words.getDoubleValue()) : std::nullopt;
}
}

juce::String figureWords(double value, const FigureRange& range)
{
    const auto scale = std::pow(10.0, range.decimals);
    auto words = juce::String(std::round(std::abs(value) * scale) / scale, range.decimals);
    if (words.containsChar('.'))
        words = words.trimCharactersAtEnd("0").trimCharactersAtEnd(".");
    if (value < 0.0 && words != "0")
        words = said("−") + words;
    return range.unit.isEmpty() ? words : words + said("\u00a0") + range.unit;
}

FigureRead figureRead(const juce::String& typed, const FigureRange& range, bool mayBeEmpty)
{
    const auto words = typed.replaceCharacter(juce::juce_wchar(0x2212), '-')
                           .replaceCharacter(juce::juce_wchar(0x00a0), ' ')
                           .replaceCharacter(',', '.')
                           .trim();
    if (words.isEmpty() && mayBeEmpty)
        return { true, std::nullopt, {} };
    const auto figure = words.initialSectionContainingOnly("+-0123456789.");
    const auto number = numberIn(figure);
    const auto factor = factorOf(words.substring(figure.length()).trim(), range.unit);
    if (!number || !factor)
        return { false, std::nullopt,
                 said("‘") + fitted(typed.trim(), 120.0f, 14.0f, Weight::semibold) + said("’ is no figure") +
                     (range.unit.isEmpty() ? juce::String() : " in " + range.unit) +
                     ". Nothing was changed." };
    const auto value = *number * *factor;
    const auto held = std::clamp(value, range.least, range.most);
    if (held != value)
        return { true, held,
                 "Held at " + figureWords(held, range) + (value > held ? ", the most." : ", the least.") };
    return { true, value, {} };
}

juce::String fitted(const juce::String& words, float measure, float size, Weight weight)
{
    if (textWidth(words, size, weight) <= measure)
        return words;
    const auto ellipsis = said("…");
    auto shorter = words;
    while (shorter.isNotEmpty() && textWidth(shorter + ellipsis, size, weight) > measure)
        shorter = shorter.dropLastCharacters(1);
    return shorter.trimEnd() + ellipsis;
}

}
