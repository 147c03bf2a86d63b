#pragma once

#include <cstddef>
#include <new>
#include <utility>
#include <vector>

namespace plumbline
{

/** Allocates on 64-byte boundaries, so that transforms and vector code may assume alignment. */
template <class T>
struct CacheLineAllocator
{
    using value_type = T;
    static constexpr std::align_val_t alignment{ 64 };

    CacheLineAllocator() = default;

    template <class Other>
    CacheLineAllocator(const CacheLineAllocator<Other>&) noexcept
    {
    }

    T* allocate(std::size_t count) { return static_cast<T*>(::operator new(count * sizeof(T), alignment)); }

    void deallocate(T* memory, std::size_t) noexcept { ::operator delete(memory, alignment); }

    friend bool operator==(const CacheLineAllocator&, const CacheLineAllocator&) noexcept { return true; }
};

/** The same, but leaves new values of a plain type as they are: for memory that is wholly written before it
    is read. */
template <class T>
struct UnfilledAllocator : CacheLineAllocator<T>
{
    UnfilledAllocator() = default;

    template <class Other>
    UnfilledAllocator(const UnfilledAllocator<Other>&) noexcept
    {
    }

    template <class U>
    void construct(U* place) noexcept
    {
        ::new (static_cast<void*>(place)) U; // no parentheses: not set to zero
    }

    template <class U, class... Arguments>
    void construct(U* place, Arguments&&... arguments)
    {
        ::new (static_cast<void*>(place)) U(std::forward<Arguments>(arguments)...);
    }
};

template <class T>
using AlignedVector = std::vector<T, CacheLineAllocator<T>>;

}
