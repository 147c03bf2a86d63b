#pragma once

#include "Plugin/EditorInterface.h"

#include <string>
#include <vector>

namespace plumbline::test
{

/** A session for windows without a plugin: shows what it is given, and writes down what it is asked. */
class FakeSession final : public EditorInterface
{
public:
    FakeSession()
    {
        auto trial = std::make_shared<Trial>();
        trial->orientations = usualOrientations();
        content.trial.trial = trial;
    }

    /** Shows a changed snapshot. */
    void show(SessionView view)
    {
        content = std::move(view);
        snapshot = std::make_shared<const SessionView>(content);
        ++number;
    }

    std::uint64_t version() const override { return number; }

    std::shared_ptr<const SessionView> session() const override
    {
        return snapshot != nullptr ? snapshot : std::make_shared<const SessionView>(content);
    }

    LiveState live() override { return now; }

    void setPlan(const TakePlan& plan) override
    {
        asked.push_back("setPlan");
        content.plan = plan;
        show(content);
    }

    void startTake() override { asked.push_back("startTake"); }

    void stop() override { asked.push_back("stop"); }

    void acknowledge() override { asked.push_back("acknowledge"); }

    void windowClosed() override { asked.push_back("windowClosed"); }

    void letHostStart(bool allowed) override
    {
        asked.push_back(allowed ? "letHostStart yes" : "letHostStart no");
    }

    void usePracticeRoom(bool practice) override
    {
        asked.push_back(practice ? "usePracticeRoom yes" : "usePracticeRoom no");
        content.practiceRoom = practice;
        show(content);
    }

    void careWasRead() override
    {
        asked.push_back("careWasRead");
        content.careWasRead = true;
        show(content);
    }

    void newTrial(const std::string& name, const std::string&) override { asked.push_back("newTrial " + name); }

    void openTrial(const std::string& folder) override { asked.push_back("openTrial " + folder); }

    void saveTrialIn(const std::string& parent) override { asked.push_back("saveTrialIn " + parent); }

    void describeMonitor(const std::string& formerName, const Monitor& monitor) override
    {
        asked.push_back("describeMonitor " + formerName + " -> " + monitor.name);
    }

    void nameTrial(const std::string& name) override { asked.push_back("nameTrial " + name); }

    void standHere(const std::string& stance) override
    {
        asked.push_back("standHere " + stance);
        content.trial.hereNow = stance;
        show(content);
    }

    void standAgain() override { asked.push_back("standAgain"); }

    void setAppearance(const Appearance& appearance) override
    {
        asked.push_back("setAppearance");
        content.appearance = appearance;
        show(content);
    }

    void dismiss(const std::string& problemCode) override { asked.push_back("dismiss " + problemCode); }

    void showAudioSettings() override { asked.push_back("showAudioSettings"); }

    SessionView content;
    LiveState now;
    std::vector<std::string> asked;

private:
    std::shared_ptr<const SessionView> snapshot;
    std::uint64_t number = 1;
};

}
