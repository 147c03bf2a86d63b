// What could pass here for the wrong reason: names that reach the session though they were refused; a link
// that is shown in every state; a chooser that answers by itself.

#include "Editor/TrialMenu.h"

#include "Editor/PageStand.h"

#include <catch2/catch.hpp>

using namespace plumbline;
using Key = juce::KeyPress;
using Place = TrialView::Place;

namespace
{

using Stand = test::PageStand<TrialMenu>;

SessionView millLane(Place where = Place::folder)
{
    SessionView view;
    auto trial = std::make_shared<Trial>();
    trial->name = "Mill Lane Room";
    view.trial.trial = trial;
    view.trial.place = where;
    view.trial.folder = "studio/Documents/Plumbline/Mill Lane Room";
    view.trialsFolder = "studio/Documents/Plumbline";
    view.recentTrials = { view.trial.folder, "studio/Documents/Plumbline/Old Chapel" };
    return view;
}

void typeName(Stand& stand, const juce::String& name)
{
    stand->entry().setText(name, juce::dontSendNotification);
    stand.type(Key::returnKey);
}

}

TEST_CASE("The trial is renamed where its name stands")
{
    Stand stand(millLane());
    stand->renameLink().press();
    REQUIRE(stand->entry().isTyping());
    CHECK(stand->entry().getText() == "Mill Lane Room");
    typeName(stand, "  The back room ");
    CHECK(stand.session.asked == std::vector<std::string>{ "nameTrial The back room" });
    CHECK_FALSE(stand->entry().isTyping());
}

TEST_CASE("A name that cannot be is refused in words, and nothing is asked")
{
    Stand stand(millLane());
    for (const auto* name : { "", "   ", "a/b", "a\\b", ".hidden", "what?" })
    {
        INFO(name);
        stand->newLink().press();
        typeName(stand, name);
        CHECK(stand->refusal().contains("Nothing was changed."));
    }
    stand->newLink().press();
    typeName(stand, juce::String::repeatedString("x", 81));
    CHECK(stand->refusal().contains("at most 80"));
    CHECK(stand.session.asked.empty());
    stand->newLink().press();
    CHECK(stand->refusal().isEmpty());
    typeName(stand, "Old Chapel 2");
    CHECK(stand.session.asked == std::vector<std::string>{ "newTrial Old Chapel 2" });
}

TEST_CASE("Escape abandons what is typed; the next one closes the menu")
{
    Stand stand(millLane());
    stand->renameLink().press();
    typeName(stand, "Mill Lane Room"); // unchanged: nothing to ask
    stand->renameLink().press();
    stand->entry().setText("Something else", juce::dontSendNotification);
    CHECK(stand.type(Key::escapeKey));
    CHECK_FALSE(stand->entry().isTyping());
    CHECK(stand.went.empty());
    stand->grabKeyboardFocus();
    CHECK(stand.type(Key::escapeKey));
    CHECK(stand.went == std::vector<std::string>{ "menu" });
    CHECK(stand.session.asked.empty());
}

TEST_CASE("A menu that is taken away under a name being typed changes nothing")
{
    Stand stand(millLane());
    stand->renameLink().press();
    stand->entry().setText("Half a na", juce::dontSendNotification);
    stand->setVisible(false);
    CHECK(stand.session.asked.empty());
    CHECK_FALSE(stand->entry().isTyping());
}

TEST_CASE("It says where the trial lives, and marks what must be attended to")
{
    Stand stand(millLane());
    CHECK(stand->stateWords() ==
          juce::String::fromUTF8("Kept in … › Documents › Plumbline › Mill Lane Room."));
    CHECK_FALSE(stand->stateNeedsAttention());
    CHECK_FALSE(stand->saveLink().isVisible());
    const auto at = [&](Place where)
    {
        stand.change(
            [where](SessionView& view)
            {
                view.trial.place = where;
                view.trial.takesInMemory = 3;
            });
        return stand->stateWords();
    };
    CHECK(at(Place::unnamed).startsWith("Nothing is on disk yet."));
    CHECK(at(Place::readOnly).startsWith("Open to be read, not written"));
    CHECK(at(Place::missing).startsWith("It is not where this session left it"));
    CHECK(stand->stateNeedsAttention());
    CHECK(stand->openLink().getButtonText() == "Locate it");
    CHECK(at(Place::memory).contains("3 takes are held in memory"));
    CHECK(stand->stateNeedsAttention());
    CHECK(stand->saveLink().isVisible());
    CHECK(stand->openLink().getButtonText() == "Open another");
}

TEST_CASE("A folder that was chosen is opened, or takes what is in memory")
{
    Stand stand(millLane(Place::memory));
    juce::String begunIn;
    std::function<void(const juce::String&)> answer;
    stand->chooseFolder = [&](const juce::String&, const juce::String& startIn, auto told)
    {
        begunIn = startIn;
        answer = told;
    };
    stand->openLink().press();
    CHECK(stand.session.asked.empty()); // not answered yet
    CHECK(begunIn == "studio/Documents/Plumbline");
    answer("disk/Old Chapel");
    stand->saveLink().press();
    answer("disk");
    CHECK(stand.session.asked == std::vector<std::string>{ "openTrial disk/Old Chapel", "saveTrialIn disk" });
}

TEST_CASE("Recent trials are opened by their names, the one that is open left out")
{
    Stand stand(millLane());
    REQUIRE(stand->recent().size() == 1);
    stand->recent().front()->press();
    CHECK(stand.wasAsked("openTrial studio/Documents/Plumbline/Old Chapel"));
}

TEST_CASE("The window's looks are changed here, the scale inside its range")
{
    Stand stand(millLane());
    stand->shadeSwitch().choose(1);
    CHECK_FALSE(stand.session.content.appearance.dark);
    stand.look();
    stand->motionSwitch().choose(1);
    CHECK(stand.session.content.appearance.reduceMotion);
    stand.look();
    auto& percent = static_cast<FigureWord&>(*stand->scaleSentence().word("scale"));
    percent.type("900");
    CHECK(stand.session.content.appearance.scalePercent == 250);
    CHECK(stand->refusal().startsWith("Held at 250"));
    stand.look();
    percent.type("big");
    CHECK(stand.session.content.appearance.scalePercent == 250);
    CHECK(stand.session.asked.size() == 3);
}

TEST_CASE("Audio settings are there for our own application alone")
{
    Stand stand(millLane());
    CHECK_FALSE(stand->audioLink().isVisible());
    stand.change([](SessionView& view) { view.standalone = true; });
    REQUIRE(stand->audioLink().isVisible());
    stand->audioLink().press();
    CHECK(stand.wasAsked("showAudioSettings"));
}

TEST_CASE("Everything in it is inside it, named and large enough")
{
    Stand stand(millLane(Place::memory));
    stand.change(
        [](SessionView& view)
        {
            view.standalone = true;
            view.messages.push_back(
                { SessionMessage::Concern::trial, true, { "t", "It cannot be written", "disk", "" } });
        });
    CHECK(test::namelessOrSmall(*stand).isEmpty());
    for (auto* child : stand->getChildren())
        if (child->isVisible())
            CHECK(stand->getLocalBounds().expanded(8).contains(child->getBounds()));
}
