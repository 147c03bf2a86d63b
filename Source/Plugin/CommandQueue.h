#pragma once

#include <functional>
#include <mutex>
#include <utility>
#include <vector>

namespace plumbline
{

/** Commands on their way to the analysis thread, done there in the order in which they were given. */
class CommandQueue
{
public:
    /** [any but audio] */
    void post(std::function<void()> command)
    {
        const std::scoped_lock guard(lock);
        waiting.push_back(std::move(command));
    }

    /** [analysis] Does what has been posted so far. */
    void run()
    {
        std::vector<std::function<void()>> now;
        {
            const std::scoped_lock guard(lock);
            std::swap(now, waiting);
        }
        for (const auto& command : now)
            command();
    }

private:
    std::mutex lock;
    std::vector<std::function<void()>> waiting;
};

}
