#include "Editor/Ink.h"

#include <array>
#include <vector>

namespace plumbline
{

namespace
{

using Character = juce::juce_wchar;

constexpr Character noBreak = 0x00a0, plusMinus = 0x00b1, minusSign = 0x2212;

/** What may follow a figure and stay with it. The longer of two that begin alike stands first. */
constexpr std::array units{
    "dBFS", "dB",   "kHz",  "Hz",     "ms",        "mm",       "min",      "cm",
    "m",    "s",    "%",    "octave", "January",   "February", "March",    "April",
    "May",  "June", "July", "August", "September", "October",  "November", "December"
};

bool isDigit(Character c)
{
    return c >= '0' && c <= '9';
}

bool isLetter(Character c)
{
    return juce::CharacterFunctions::isLetter(c);
}

/** The text from `from` on begins with a unit and no letter follows it. */
bool unitBegins(const std::vector<Character>& text, std::size_t from)
{
    for (const auto* unit : units)
    {
        std::size_t length = 0;
        while (unit[length] != 0 && from + length < text.size() &&
               text[from + length] == static_cast<Character>(unit[length]))
            ++length;
        if (unit[length] == 0 && (from + length == text.size() || !isLetter(text[from + length])))
            return true;
    }
    return false;
}

bool blank(Character c)
{
    return c == ' ' || c == noBreak;
}

/** What stands at `i` once figures are bound. Earlier characters are bound already. */
Character boundAt(const std::vector<Character>& text, std::size_t i)
{
    const auto before = i > 0 ? text[i - 1] : Character(' ');
    const auto after = i + 1 < text.size() ? text[i + 1] : Character(' ');
    if (text[i] == '-' && isDigit(after) && (blank(before) || before == '(' || before == plusMinus))
        return minusSign;
    if (text[i] != ' ')
        return text[i];
    const auto ofFigure = isDigit(before) && unitBegins(text, i + 1);
    const auto ofPlusMinus = before == plusMinus || after == plusMinus;
    const auto ofSpl = i >= 2 && text[i - 2] == 'd' && before == 'B' && i + 3 < text.size() && after == 'S' &&
                       text[i + 2] == 'P' && text[i + 3] == 'L';
    return ofFigure || ofPlusMinus || ofSpl ? noBreak : text[i];
}

}

juce::String bound(const juce::String& words)
{
    std::vector<Character> text;
    for (auto at = words.getCharPointer(); !at.isEmpty();)
        text.push_back(at.getAndAdvance());
    for (std::size_t i = 0; i < text.size(); ++i)
        text[i] = boundAt(text, i);
    text.push_back(0);
    return juce::String(juce::CharPointer_UTF32(text.data()));
}

juce::StringArray brokenIntoLines(const juce::String& words, float measure, float size, Weight weight)
{
    juce::StringArray lines;
    juce::String current;
    for (const auto& word : juce::StringArray::fromTokens(bound(words), " ", ""))
    {
        const auto longer = current.isEmpty() ? word : current + " " + word;
        if (current.isNotEmpty() && textWidth(longer, size, weight) > measure)
        {
            lines.add(current);
            current = word;
        }
        else
            current = longer;
    }
    if (current.isNotEmpty() || lines.isEmpty())
        lines.add(current);
    return lines;
}

}
