#pragma once

#include <cstddef>
#include <new>
#include <vector>

namespace plumbline
{

/** Allocates on 64-byte boundaries, so that transforms and vector code may assume alignment. */
template <class T>
struct CacheLineAllocator
{
    using value_type = T;
    static constexpr std::align_val_t alignment { 64 };

    CacheLineAllocator() = default;
    template <class Other>
    CacheLineAllocator(const CacheLineAllocator<Other>&) noexcept
    {
    }

    T* allocate(std::size_t count) { return static_cast<T*>(::operator new(count * sizeof(T), alignment)); }
    void deallocate(T* memory, std::size_t) noexcept { ::operator delete(memory, alignment); }

    friend bool operator==(const CacheLineAllocator&, const CacheLineAllocator&) noexcept { return true; }
};

template <class T>
using AlignedVector = std::vector<T, CacheLineAllocator<T>>;

}
