#pragma once

#include <array>
#include <charconv>
#include <string>

namespace plumbline
{

/** A number with a fixed count of decimals and a point in every locale; "-0.0" is written "0.0". */
inline std::string fixedText(double value, int decimals)
{
    std::array<char, 64> digits{};
    const auto end =
        std::to_chars(digits.data(), digits.data() + digits.size(), value, std::chars_format::fixed, decimals)
            .ptr;
    std::string text(digits.data(), end);
    return text.find_first_of("123456789") == std::string::npos && text.starts_with('-') ? text.substr(1)
                                                                                         : text;
}

/** The shortest digits that read back exactly. */
inline std::string exactText(double value)
{
    std::array<char, 32> digits{};
    return { digits.data(), std::to_chars(digits.data(), digits.data() + digits.size(), value).ptr };
}

}
