#pragma once

namespace plumbline
{

/** Lets the system's requests to end (interrupt, terminate, hang-up) be answered in an orderly way: the signal
    itself only leaves a note, which the message thread finds. */
namespace interruption
{
/** [message] From now on those signals do not end the process. */
void takeOver();
/** [any] Whether one has come. */
bool isAsked() noexcept;
}

}
