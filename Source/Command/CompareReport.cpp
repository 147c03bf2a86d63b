#include "Command/CompareReport.h"

#include "Files/ComparisonFile.h"
#include "Trial/Words.h"

#include <algorithm>
#include <cmath>

namespace plumbline
{

namespace
{

constexpr std::size_t columnsAtOnce = 5;
constexpr std::size_t columnWidth = 15;

/** Characters of a UTF-8 text: bytes that do not continue one. */
std::size_t lengthOf(const std::string& text)
{
    return static_cast<std::size_t>(
        std::count_if(text.begin(), text.end(), [](char c) { return (c & 0xC0) != 0x80; }));
}

std::string toRight(const std::string& text, std::size_t width)
{
    const auto length = lengthOf(text);
    return length < width ? std::string(width - length, ' ') + text : ' ' + text;
}

std::string toLeft(const std::string& text, std::size_t width)
{
    const auto length = lengthOf(text);
    return length < width ? text + std::string(width - length, ' ') : text + ' ';
}

std::string cell(const ReadingValue& value)
{
    if (!value.known())
        return "not known";
    if (!std::isfinite(value.plusMinus)) // no spread tells how many decimals mean anything
        return figure(value.value, std::abs(value.value) < 1.0 ? 2 : 1);
    const auto text = withPlusMinus(value.value, value.plusMinus, "");
    return text.substr(0, text.find_last_not_of(' ') + 1);
}

std::size_t nameWidth(const Comparison& comparison)
{
    std::size_t width = 20;
    for (std::size_t s = 0; s < comparison.board->stances().size(); ++s)
        width = std::max(width, lengthOf(comparison.stance(s).name()) + 1);
    return width;
}

std::string stanceLines(const Comparison& comparison)
{
    const auto width = nameWidth(comparison);
    std::string text = "    " + toLeft("stance", width) + toRight("set-ups", 8) + toRight("takes", 7) +
                       toRight("trim dB", 9) + '\n';
    for (std::size_t p = 0; p < comparison.order.places.size(); ++p)
    {
        const auto s = comparison.order.places[p].stance;
        const auto& stance = comparison.board->stances()[s];
        text += toRight(std::to_string(p + 1), 3) + ' ' + toLeft(comparison.stance(s).name(), width) +
                toRight(std::to_string(stance.setUps.size()), 8) +
                toRight(std::to_string(takesOf(stance)), 7) + toRight(figure(stance.trimDb, 1), 9) + '\n';
    }
    return text;
}

/** Readings of the places from `first` on, a column each. */
std::string readingLines(const Comparison& comparison, std::size_t first)
{
    std::size_t width = 8;
    for (const auto& reading : comparison.readings)
        width = std::max(width, lengthOf(reading.name + ", " + reading.unit) + 1);
    const auto& places = comparison.order.places;
    const auto last = std::min(first + columnsAtOnce, places.size());
    auto text = toLeft("reading", width);
    for (std::size_t p = first; p < last; ++p)
        text += toRight(std::to_string(p + 1), columnWidth);
    for (std::size_t r = 0; r < comparison.readings.size(); ++r)
    {
        const auto& reading = comparison.readings[r];
        text +=
            '\n' + toLeft(reading.unit.empty() ? reading.name : reading.name + ", " + reading.unit, width);
        for (std::size_t p = first; p < last; ++p)
            text += toRight(cell(comparison.values[places[p].stance][r]), columnWidth);
    }
    return text + '\n';
}

}

std::string comparisonTable(const Comparison& comparison)
{
    auto text = stanceLines(comparison);
    for (std::size_t first = 0; first < comparison.order.places.size(); first += columnsAtOnce)
        text += '\n' + readingLines(comparison, first);
    text.pop_back();
    return text;
}

}
