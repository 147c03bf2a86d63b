#include "Measure/ImpulseResponse.h"

namespace plumbline
{

ImpulseResponse::ImpulseResponse(SpectrumBuffer transfer, double sampleRateHz) :
    buffer(std::move(transfer)), scale(1.0 / static_cast<double>(buffer.length())), rate(sampleRateHz)
{
    buffer.inverseUnscaled();
}

void ImpulseResponse::copy(std::ptrdiff_t first, std::span<double> into) const noexcept
{
    for (std::size_t i = 0; i < into.size(); ++i)
        into[i] = at(first + static_cast<std::ptrdiff_t>(i));
}

}
