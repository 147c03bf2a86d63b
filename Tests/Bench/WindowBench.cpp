// What the window costs the message thread: its first opening in a process (constructed, and painted whole in
// software at 1200 x 760), a later opening, a full repaint, and standing idle.
//
// What could come out right here for the wrong reason: a window with nothing in it opens at once and repaints in
// no time. So it shows a take, and the number of colours in its picture is looked at before anything is timed.
#include "Editor/EditorWindow.h"
#include "Support/FakeSession.h"
#include "Support/SampleTrial.h"
#include "Support/SilentProcessor.h"
#include "Timing.h"

#include <cstdio>
#include <cstdlib>
#include <set>
#include <sys/wait.h>
#include <unistd.h>

using namespace plumbline;
using namespace plumbline::bench;

namespace
{

constexpr double mostOpeningSeconds = 0.150, mostIdleShare = 0.01;

/** A window on a trial with takes, made and painted once. */
class Opened
{
public:
    explicit Opened(test::FakeSession& session) : window(processor, session) { paint(); }

    juce::Image paint()
    {
        window.repaint();
        return window.createComponentSnapshot(window.getLocalBounds());
    }

    void look() { window.look(); }

private:
    test::SilentProcessor processor;
    EditorWindow window;
};

int coloursIn(const juce::Image& picture)
{
    std::set<juce::uint32> colours;
    for (int y = 0; y < picture.getHeight(); y += 3)
        for (int x = 0; x < picture.getWidth(); x += 3)
            colours.insert(picture.getPixelAt(x, y).getARGB());
    return static_cast<int>(colours.size());
}

/** In a process of its own, so that nothing is there already: fonts, caches, JUCE itself. */
double firstOpeningSeconds(const SessionView& view)
{
    int ends[2];
    if (pipe(ends) != 0)
        std::exit(1);
    const auto child = fork();
    if (child == 0)
    {
        const double seconds = timed(
            [&]
            {
                const juce::ScopedJuceInitialiser_GUI messages;
                test::FakeSession session;
                session.show(view);
                const Opened opened(session);
            });
        const auto written = write(ends[1], &seconds, sizeof seconds);
        _exit(written == sizeof seconds ? 0 : 1);
    }
    double seconds = 0.0;
    const auto got = read(ends[0], &seconds, sizeof seconds);
    int status = 1;
    waitpid(child, &status, 0);
    close(ends[0]);
    close(ends[1]);
    if (got != sizeof seconds || status != 0)
        std::exit(1);
    return seconds;
}

template <class Work>
Quartiles repeated(int times, Work&& work)
{
    std::vector<double> seconds;
    for (int i = 0; i < times; ++i)
        seconds.push_back(timed(work));
    return quartilesOf(seconds);
}

}

int main()
{
    const auto scenario = readScenario(PLUMBLINE_PRESETS "/practice/three-pairs.json").value();
    const auto view = test::sampleView(scenario, PracticeRoom(scenario, 48000.0, 1));
    std::vector<double> first;
    for (int i = 0; i < 9; ++i)
        first.push_back(firstOpeningSeconds(view));
    const auto opening = quartilesOf(first);
    print("first opening, painted", opening, 1e3, "ms", "  goal 150 ms: ");
    std::printf("    %s\n", verdict(opening.median < mostOpeningSeconds));

    const juce::ScopedJuceInitialiser_GUI messages;
    test::FakeSession session;
    session.show(view);
    Opened opened(session);
    if (coloursIn(opened.paint()) < 20)
    {
        std::fprintf(stderr, "The window shows nothing.\n");
        return 1;
    }
    print("a later opening, painted", repeated(15, [&] { const Opened another(session); }), 1e3, "ms");
    print("the whole window painted again", repeated(40, [&] { opened.paint(); }), 1e3, "ms");
    constexpr int looks = 300;
    auto look = [&]
    {
        for (int i = 0; i < looks; ++i)
            opened.look();
    };
    look();
    const auto idle = repeated(15, look);
    const double share = idle.median / looks * EditorWindow::looksPerSecond;
    std::printf("  idle, thirty looks a second: %.4f %% of a core, goal 1 %%: %s\n", 100.0 * share,
                verdict(share < mostIdleShare));
    return 0;
}
