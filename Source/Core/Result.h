#pragma once

#include "Core/Problem.h"

#include <cassert>
#include <utility>
#include <variant>

namespace plumbline
{

/** A value, or the problem that kept it from being made. Never both, never neither. */
template <class Value>
class [[nodiscard]] Result
{
public:
    Result(Value value) : content(std::in_place_index<0>, std::move(value)) {}

    Result(Problem problem) : content(std::in_place_index<1>, std::move(problem)) {}

    bool ok() const noexcept { return content.index() == 0; }

    explicit operator bool() const noexcept { return ok(); }

    Value& value() &
    {
        assert(ok());
        return std::get<0>(content);
    }

    const Value& value() const&
    {
        assert(ok());
        return std::get<0>(content);
    }

    Value&& value() &&
    {
        assert(ok());
        return std::get<0>(std::move(content));
    }

    const Problem& problem() const
    {
        assert(!ok());
        return std::get<1>(content);
    }

    Value* operator->() { return &value(); }

    const Value* operator->() const { return &value(); }

    Value& operator*() & { return value(); }

    const Value& operator*() const& { return value(); }

private:
    std::variant<Value, Problem> content;
};

/** For acts that give nothing back but can fail. */
struct Done
{
};

using Outcome = Result<Done>;

}
