#include "Editor/TrialMenu.h"

#include "Editor/StopFirst.h"

namespace plumbline
{

namespace
{
const FigureRange scaleFigure{ 100.0, 250.0, 25.0, 0, "%" };
}

TrialMenu::TrialMenu(WindowContext& windowContext)
    : Part(windowContext), rename(windowContext, "Rename"), begin(windowContext, "New trial"),
      openAnother(windowContext, "Open another"), save(windowContext, "Save it in another folder"),
      audio(windowContext, "Audio settings"), typed(windowContext, "The trial's name"),
      message(windowContext), shade(windowContext, "The window's ground", "dark", "light"),
      motion(windowContext, "Motion in the window", "as usual", "none"), scale(windowContext)
{
    setTitle("The trial, and how the window looks");
    setWantsKeyboardFocus(true);
    setFocusContainerType(FocusContainerType::keyboardFocusContainer);
    chooseFolder = [this](const juce::String& title, const juce::String& startIn,
                          std::function<void(const juce::String&)> answer)
    {
        constexpr auto folders =
            juce::FileBrowserComponent::openMode | juce::FileBrowserComponent::canSelectDirectories;
        chooser = std::make_unique<juce::FileChooser>(
            title, juce::File::isAbsolutePath(startIn) ? juce::File(startIn) : juce::File());
        chooser->launchAsync(folders,
                             [answer](const juce::FileChooser& asked)
                             {
                                 if (const auto chosen = asked.getResult(); chosen != juce::File())
                                     answer(chosen.getFullPathName());
                             });
    };
    connectActs();
    buildAppearance();
    for (auto* part : std::initializer_list<juce::Component*>{ &rename, &begin, &openAnother, &save, &message,
                                                               &shade, &scale, &motion, &audio })
        addAndMakeVisible(part);
    addChildComponent(typed);
    viewChanged();
}

TrialMenu::~TrialMenu() = default;

void TrialMenu::connectActs()
{
    rename.onClick = [this] { beginTyping(false); };
    begin.onClick = [this] { beginTyping(true); };
    openAnother.onClick = [this] { askForFolder("The trial's folder", false); };
    save.onClick = [this] { askForFolder("Where the trial is to be kept", true); };
    audio.onClick = [this] { context.session.showAudioSettings(); };
    message.onLink = [this] { context.session.dismiss(messageCode); };
    typed.onDone = [this](const juce::String& words) { nameTyped(words); };
    typed.onAbandoned = [this] { viewChanged(); };
}

void TrialMenu::buildAppearance()
{
    shade.onChosen = [this](int word) { change([word](Appearance& look) { look.dark = word == 0; }); };
    motion.onChosen = [this](int word)
    { change([word](Appearance& look) { look.reduceMotion = word == 1; }); };
    auto& percent = scale.addFigure("scale", "Scale of the window", scaleFigure);
    percent.onChanged = [this](std::optional<double> value)
    { change([value](Appearance& look) { look.scalePercent = juce::roundToInt(value.value_or(100.0)); }); };
    scale.setSentence("at [scale]");
    scale.onRemark = [this](const juce::String& said)
    {
        remark = said;
        viewChanged();
    };
}

void TrialMenu::change(const std::function<void(Appearance&)>& how)
{
    auto look = view().appearance;
    how(look);
    if (look != view().appearance)
        context.session.setAppearance(look);
}

void TrialMenu::beginTyping(bool forNewTrial)
{
    naming = forNewTrial;
    remark.clear();
    typed.setTitle(forNewTrial ? "Name of the new trial" : "The trial's name");
    typed.begin(forNewTrial ? juce::String() : juce::String(view().trial.trial->name),
                forNewTrial ? "Name of the new trial" : "Name of this trial");
    viewChanged();
}

void TrialMenu::nameTyped(const juce::String& words)
{
    const auto name = words.trim();
    remark = trialNameRefusal(name);
    if (remark.isEmpty() && naming)
        context.session.newTrial(name.toStdString(), {});
    else if (remark.isEmpty() && name != juce::String(view().trial.trial->name))
        context.session.nameTrial(name.toStdString());
    viewChanged();
}

void TrialMenu::askForFolder(const juce::String& title, bool toSave)
{
    const juce::Component::SafePointer<TrialMenu> safe(this);
    chooseFolder(title, juce::String(view().trialsFolder),
                 [safe, toSave](const juce::String& folder)
                 {
                     if (safe == nullptr)
                         return;
                     auto& session = safe->context.session;
                     toSave ? session.saveTrialIn(folder.toStdString())
                            : session.openTrial(folder.toStdString());
                 });
}

bool TrialMenu::keyPressed(const juce::KeyPress& key)
{
    if (!key.isKeyCode(juce::KeyPress::escapeKey) || stopComesFirst(context.live) || !isVisible())
        return false;
    context.showTrialMenu();
    return true;
}

void TrialMenu::viewChanged()
{
    const auto place = view().trial.place;
    openAnother.say(place == TrialView::Place::missing ? "Locate it" : "Open another");
    save.setVisible(place == TrialView::Place::memory);
    audio.setVisible(view().standalone);
    shade.setHolding(view().appearance.dark ? 0 : 1);
    motion.setHolding(view().appearance.reduceMotion ? 1 : 0);
    static_cast<FigureWord*>(scale.word("scale"))->setValue(view().appearance.scalePercent);
    sayMessage();
    listRecent();
    setSize(width, layOut());
    repaint();
}

void TrialMenu::sayMessage()
{
    const SessionMessage* first = nullptr;
    for (const auto& each : view().messages)
        if (first == nullptr && (each.concern == SessionMessage::Concern::trial ||
                                 each.concern == SessionMessage::Concern::settings))
            first = &each;
    message.setVisible(first != nullptr);
    if (first == nullptr)
        return;
    messageCode = first->problem.code;
    message.say(first->attend, whatOf(first->problem), remedyOf(first->problem), "Put it away");
}

void TrialMenu::listRecent()
{
    constexpr std::size_t most = 5;
    std::vector<std::string> folders;
    for (const auto& folder : view().recentTrials)
        if (folder != view().trial.folder && folders.size() < most)
            folders.push_back(folder);
    if (folders == listed)
        return; // the links keep the keyboard
    listed = folders;
    recents.clear();
    for (const auto& folder : folders)
    {
        auto link = std::make_unique<LinkButton>(context, folderWords(juce::String(folder)));
        link->setTooltip(juce::String(folder));
        link->onClick = [this, folder] { context.session.openTrial(folder); };
        addAndMakeVisible(*link);
        recents.push_back(std::move(link));
    }
}

}
