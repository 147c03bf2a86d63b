// What could pass here for the wrong reason: one sentence for everything, so each moment's own words are asked for, and
// the moments just before and after each change.

#include "Editor/Strip.h"

#include "Support/FakeSession.h"
#include "Support/HeadlessDesk.h"

#include <catch2/catch.hpp>

using namespace plumbline;
using Phase = LiveState::Phase;

namespace
{

/** 1 s quiet, 3 s left, 1 s rest, 3 s right, 1 s tail. */
SessionView plain()
{
    SessionView view;
    view.trial.trial = std::make_shared<Trial>();
    return view;
}

LiveState at(Phase phase, double seconds = 0.0)
{
    LiveState live;
    live.phase = phase;
    live.elapsedSeconds = seconds;
    live.sampleRateHz = 48000.0;
    return live;
}

juce::String during(const SessionView& view, double seconds)
{
    return heard(view, at(Phase::taking, seconds));
}

}

TEST_CASE("Between takes the strip says that the mix is heard")
{
    for (const auto phase : { Phase::idle, Phase::preparing, Phase::analysing, Phase::stopped })
    {
        CHECK(heard(plain(), at(phase)) == "You hear the mix.");
        auto alone = plain(); // our own application has no mix
        alone.standalone = true;
        CHECK_FALSE(heard(alone, at(phase)).contains("mix"));
    }
}

TEST_CASE("During a take the strip says what plays, and that the mix is faded out")
{
    const auto view = plain();
    CHECK(during(view, 0.99).startsWith("Quiet"));
    CHECK(during(view, 1.01) == "The sweep, left. The mix is faded out until the take ends.");
    CHECK(during(view, 3.99).startsWith("The sweep, left."));
    CHECK(during(view, 4.01).startsWith("A rest"));
    CHECK(during(view, 4.99).startsWith("A rest"));
    CHECK(during(view, 5.01) == "The sweep, right. The mix is faded out until the take ends.");
    CHECK(during(view, 7.99).startsWith("The sweep, right."));
    CHECK(during(view, 8.01).startsWith("Quiet, while"));
}

TEST_CASE("The strip names no side of a single monitor")
{
    auto view = plain();
    view.times.pair = false;
    CHECK(during(view, 2.0).startsWith("The sweep. "));
    CHECK(during(view, 4.5).startsWith("Quiet, while"));
    CHECK_FALSE(during(view, 6.0).contains("right"));
}

TEST_CASE("In the practice room the strip says that nothing sounds, and is true about the mix")
{
    auto view = plain();
    view.practiceRoom = true;
    CHECK(during(view, 2.0).startsWith("Practice room: nothing sounds."));
    CHECK(heard(view, at(Phase::idle)).startsWith("You hear the mix."));
    CHECK(heard(view, at(Phase::idle)).contains("practice room"));
}

TEST_CASE("The strip says when nothing can be heard")
{
    auto stopped = at(Phase::stopped);
    stopped.mustAcknowledge = true;
    CHECK(heard(plain(), stopped) == "Silent until you let the mix back.");
    CHECK(heard(plain(), at(Phase::stopping)) == "Fading to silence.");
    CHECK_FALSE(heard(plain(), LiveState()).contains("You hear"));
}

TEST_CASE("The strip says why no take begins while a file is rendered, and what an armed take waits for")
{
    auto rendering = at(Phase::idle);
    rendering.hostIsRendering = true;
    CHECK(heard(plain(), rendering).contains("rendered"));
    CHECK(heard(plain(), at(Phase::armed)).contains("until the host starts"));
}

TEST_CASE("The strip is drawn again only when its sentence changes")
{
    const juce::ScopedJuceInitialiser_GUI juceRuns;
    test::FakeSession session;
    WindowContext context{
        session, session.session(), at(Phase::taking, 1.5), &darkPalette(), Stage::capture, {}, {}, {}
    };
    Strip strip(context);
    test::HeadlessDesk desk(strip);
    desk.repaintsAsked();
    context.live.elapsedSeconds = 3.5;
    strip.liveChanged();
    CHECK(desk.repaintsAsked() == 0);
    context.live.elapsedSeconds = 5.5;
    strip.liveChanged();
    CHECK(desk.repaintsAsked() > 0);
    CHECK(strip.sentence().startsWith("The sweep, right."));
}
