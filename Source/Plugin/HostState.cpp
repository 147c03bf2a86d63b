#include "Plugin/HostState.h"

#include "Files/Json.h"

namespace plumbline
{

namespace
{
constexpr int hostStateVersion = 1;
constexpr std::size_t mostBytes = 256u << 10;

void set(juce::AudioParameterFloat& parameter, double value)
{
    parameter.setValueNotifyingHost(parameter.convertTo0to1(static_cast<float>(value)));
}
}

std::string hostState(const Parameters& parameters)
{
    const double level = std::min<double>(parameters.level.get(), startLevelDbfs);
    const Json state{ { "schema", schemaName("host-state", hostStateVersion) },
                      { "levelDbfs", level },
                      { "sweepSeconds", parameters.seconds.get() } };
    return state.dump();
}

bool restoreHostState(Parameters& parameters, std::string_view text)
{
    const auto state =
        text.size() <= mostBytes ? Json::parse(text, nullptr, false) : Json(Json::value_t::discarded);
    const bool ours =
        !state.is_discarded() && !schemaFault(state, "host-state", hostStateVersion, "host state");
    const Json sought = ours ? state : Json::object();
    JsonFields fields(sought, "host state");
    const double level = fields.numberOr("levelDbfs", startLevelDbfs, -120.0, 0.0);
    const double seconds = fields.numberOr("sweepSeconds", 5.0, 1.0, 30.0);
    const bool sound = ours && !fields.fault();
    set(parameters.level, sound ? std::min(level, startLevelDbfs) : startLevelDbfs);
    set(parameters.seconds, sound ? seconds : 5.0);
    return sound;
}

}
