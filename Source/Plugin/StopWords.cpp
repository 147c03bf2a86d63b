#include "Plugin/TakeControl.h"

namespace plumbline
{

Problem problemOf(StopCause cause)
{
    auto problem = [](const char* code, const char* what, const char* remedy) {
        return Problem{ code, what, "", remedy };
    };
    switch (cause)
    {
    case StopCause::asked:
        return problem("stopped", "Stopped: you asked for it", "");
    case StopCause::windowClosed:
        return problem("window-closed", "Stopped: the window was closed in mid-take",
                       "Keep it open until the take ends, or let the host start the take");
    case StopCause::overload:
        return problem("overload", "Stopped: the Return overloaded. The output is silent",
                       "Turn the microphone's gain or the level down, then acknowledge");
    case StopCause::runaway:
        return problem("runaway", "Stopped: the Return grew by itself. The output is silent",
                       "Make sure the microphone is not routed to the monitors, then acknowledge");
    case StopCause::notFinite:
        return problem("not-finite",
                       "Stopped: the Return held values that are not numbers. The output is silent",
                       "Look for a fault in what stands before it, then acknowledge");
    case StopCause::noReturn:
        return problem("no-return", "No take: nothing is connected to the Return",
                       "Route the microphone to this plugin's side-chain");
    case StopCause::streamChanged:
        return problem("stream-changed", "Stopped: the sample rate or the connections changed in mid-take",
                       "Take it again");
    case StopCause::hostStopped:
        return problem("host-stopped", "Stopped: the host stopped the audio in mid-take", "Take it again");
    case StopCause::offlineRender:
        return problem("offline-render", "No take while the host renders a file", "Take it after the render");
    case StopCause::none:
        break;
    }
    return problem("incomplete", "The take did not run to its end", "Take it again");
}

}
