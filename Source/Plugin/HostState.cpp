#include "Plugin/HostState.h"

#include "Files/Json.h"

namespace plumbline
{

namespace
{
constexpr int hostStateVersion = 1;

void set(juce::AudioParameterFloat& parameter, double value)
{
    parameter.setValueNotifyingHost(parameter.convertTo0to1(static_cast<float>(value)));
}

std::string encoded(const std::string& bytes)
{
    return juce::Base64::toBase64(bytes.data(), bytes.size()).toStdString();
}

std::string decoded(const std::string& text)
{
    juce::MemoryOutputStream bytes;
    if (!juce::Base64::convertFromBase64(bytes, text))
        return {};
    return { static_cast<const char*>(bytes.getData()), bytes.getDataSize() };
}

SessionState sessionOf(JsonFields& fields, const Json& state)
{
    SessionState session;
    if (fields.has("trial"))
    {
        JsonFields trial(state.at("trial"), "host state, trial");
        session.trial = { trial.text("id"), trial.text("folder") };
        if (trial.fault())
            fields.complain(trial.fault()->what);
    }
    session.hereNow = fields.textOr("hereNow", "");
    session.hereSetUp = static_cast<int>(fields.numberOr("hereSetUp", 1.0, 1.0, 1e6));
    session.practiceRoom = fields.flagOr("practiceRoom", false);
    session.setAside = decoded(fields.textOr("setAside", ""));
    return session;
}

}

std::string hostState(const Parameters& parameters, const SessionState& session)
{
    const double level = std::min<double>(parameters.level.get(), startLevelDbfs);
    Json state{ { "schema", schemaName("host-state", hostStateVersion) },
                { "levelDbfs", level },
                { "sweepSeconds", parameters.seconds.get() } };
    if (!session.trial.folder.empty())
        state["trial"] = { { "id", session.trial.id }, { "folder", session.trial.folder } };
    if (!session.hereNow.empty())
        state["hereNow"] = session.hereNow;
    state["hereSetUp"] = session.hereSetUp;
    state["practiceRoom"] = session.practiceRoom;
    if (!session.setAside.empty() && session.setAside.size() <= mostSetAsideBytes)
        state["setAside"] = encoded(session.setAside);
    return state.dump(-1, ' ', false, Json::error_handler_t::replace);
}

RestoredState restoreHostState(Parameters& parameters, std::string_view text)
{
    const auto state = text.size() <= mostHostStateBytes ? Json::parse(text, nullptr, false)
                                                         : Json(Json::value_t::discarded);
    const bool ours =
        !state.is_discarded() && !schemaFault(state, "host-state", hostStateVersion, "host state");
    const Json sought = ours ? state : Json::object();
    JsonFields fields(sought, "host state");
    const double level = fields.numberOr("levelDbfs", startLevelDbfs, -120.0, 0.0);
    const double seconds = fields.numberOr("sweepSeconds", 5.0, 1.0, 30.0);
    RestoredState restored;
    restored.session = sessionOf(fields, sought);
    restored.sound = ours && !fields.fault();
    if (!restored.sound)
    {
        restored.session = {};
        restored.session.setAside = std::string(text);
    }
    set(parameters.level, restored.sound ? std::min(level, startLevelDbfs) : startLevelDbfs);
    set(parameters.seconds, restored.sound ? seconds : 5.0);
    return restored;
}

}
