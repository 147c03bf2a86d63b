#include "Dsp/Fft.h"

#include "Core/ThreadTags.h"

#include <algorithm>
#include <cassert>
#include <fftw3.h>
#include <map>
#include <mutex>

namespace plumbline
{

static_assert(sizeof(std::complex<double>) == sizeof(fftw_complex));

struct Fft::Plans
{
    fftw_plan forward = nullptr;
    fftw_plan inverse = nullptr;
};

namespace
{

/** FFTW's planner and its wisdom are shared by the whole process and are not thread-safe: one lock for all.
    */
std::mutex& plannerLock()
{
    static std::mutex lock;
    return lock;
}

std::map<std::size_t, std::weak_ptr<const Fft>>& cache()
{
    static std::map<std::size_t, std::weak_ptr<const Fft>> transforms;
    return transforms;
}

/** The last few transforms stay alive, so that a take does not plan anew for each of its steps. */
void keepAlive(std::shared_ptr<const Fft> transform)
{
    static std::vector<std::shared_ptr<const Fft>> recent;
    constexpr std::size_t most = 16;
    std::erase(recent, transform);
    if (recent.size() == most)
        recent.erase(recent.begin());
    recent.push_back(std::move(transform));
}

struct PlanPair
{
    fftw_plan forward, inverse;
};

/** Lock held. In-place plans on scratch memory; the planner may overwrite it. Up to `longestOnAudio` points no
    plan is made that takes memory each time it runs, as some buffered ones do. */
PlanPair plan(std::size_t length, unsigned flags)
{
    constexpr std::size_t longestOnAudio = 8192;
    if (length <= longestOnAudio)
        flags |= FFTW_NO_BUFFERING;
    AlignedVector<double> scratch(length + 2);
    auto* spectrum = reinterpret_cast<fftw_complex*>(scratch.data());
    const int n = static_cast<int>(length);
    return { fftw_plan_dft_r2c_1d(n, scratch.data(), spectrum, flags),
             fftw_plan_dft_c2r_1d(n, spectrum, scratch.data(), flags) };
}

/** Lock held. Wisdom for each direction where there is some, the estimate otherwise. */
PlanPair planQuickly(std::size_t length)
{
    PlanPair wise = plan(length, FFTW_MEASURE | FFTW_WISDOM_ONLY);
    if (wise.forward != nullptr && wise.inverse != nullptr)
        return wise;
    PlanPair estimated = plan(length, FFTW_ESTIMATE);
    if (wise.forward != nullptr)
        std::swap(wise.forward, estimated.forward);
    if (wise.inverse != nullptr)
        std::swap(wise.inverse, estimated.inverse);
    for (fftw_plan unused : { wise.forward, wise.inverse })
        if (unused != nullptr)
            fftw_destroy_plan(unused);
    return estimated;
}

}

Fft::Fft(std::size_t length, std::unique_ptr<Plans> made) : points(length), plans(std::move(made))
{
}

Fft::~Fft()
{
    // Destroying a plan is not thread-safe either. The lock is never held while a transform dies: see
    // ofLength.
    const std::scoped_lock lock(plannerLock());
    fftw_destroy_plan(plans->forward);
    fftw_destroy_plan(plans->inverse);
}

std::shared_ptr<const Fft> Fft::ofLength(std::size_t length)
{
    assertNotOnAudioThread();
    assert(length >= 2 && length % 2 == 0);
    static std::mutex cacheLock;
    const std::scoped_lock guard(cacheLock);
    if (auto known = cache()[length].lock())
        return known;
    auto plans = std::make_unique<Plans>();
    {
        const std::scoped_lock lock(plannerLock());
        const PlanPair made = planQuickly(length);
        plans->forward = made.forward;
        plans->inverse = made.inverse;
    }
    std::shared_ptr<const Fft> transform(new Fft(length, std::move(plans)));
    cache()[length] = transform;
    keepAlive(transform);
    return transform;
}

void Fft::tune(std::size_t length, double limitSeconds)
{
    assertNotOnAudioThread();
    const std::scoped_lock lock(plannerLock());
    fftw_set_timelimit(limitSeconds / 2); // the limit is for one plan, and there are two
    const PlanPair measured = plan(length, FFTW_MEASURE);
    fftw_set_timelimit(FFTW_NO_TIMELIMIT);
    fftw_destroy_plan(measured.forward);
    fftw_destroy_plan(measured.inverse);
}

std::string Fft::wisdom()
{
    const std::scoped_lock lock(plannerLock());
    char* text = fftw_export_wisdom_to_string();
    std::string copy = text == nullptr ? "" : text;
    fftw_free(text);
    return copy;
}

bool Fft::adoptWisdom(const std::string& text)
{
    const std::scoped_lock lock(plannerLock());
    return fftw_import_wisdom_from_string(text.c_str()) != 0;
}

void Fft::forward(double* data) const noexcept
{
    fftw_execute_dft_r2c(plans->forward, data, reinterpret_cast<fftw_complex*>(data));
}

void Fft::inverseUnscaled(double* data) const noexcept
{
    fftw_execute_dft_c2r(plans->inverse, reinterpret_cast<fftw_complex*>(data), data);
}

SpectrumBuffer::SpectrumBuffer(std::size_t length) : transform(Fft::ofLength(length)), memory(length + 2, 0.0)
{
}

SpectrumBuffer::SpectrumBuffer(std::size_t length, Unfilled)
    : transform(Fft::ofLength(length)), memory(length + 2)
{
}

std::size_t fastTransformLength(std::size_t atLeast)
{
    auto isSmooth = [](std::size_t n)
    {
        for (std::size_t factor : { 2u, 3u, 5u, 7u })
            while (n % factor == 0)
                n /= factor;
        return n == 1;
    };
    std::size_t length = std::max<std::size_t>(2, atLeast + atLeast % 2);
    while (!isSmooth(length))
        length += 2;
    return length;
}

}
