#include "Editor/TrialMenu.h"

namespace plumbline
{

juce::String folderWords(const juce::String& path)
{
    constexpr int partsShown = 3;
    auto parts = juce::StringArray::fromTokens(path.replaceCharacter('\\', '/'), "/", {});
    parts.removeEmptyStrings();
    const bool cut = parts.size() > partsShown;
    if (cut)
        parts.removeRange(0, parts.size() - partsShown);
    return (cut ? said("… › ") : juce::String()) + parts.joinIntoString(said(" › "));
}

juce::String trialNameRefusal(const juce::String& name)
{
    constexpr int longest = 80;
    if (name.isEmpty())
        return "A trial needs a name. Nothing was changed.";
    if (name.length() > longest)
        return "A trial's name has at most 80 letters. Nothing was changed.";
    if (name.containsAnyOf("/\\:*?\"<>|") || name.startsWithChar('.'))
        return "A folder cannot be called that. Nothing was changed.";
    return {};
}

bool TrialMenu::stateNeedsAttention() const
{
    return view().trial.place == TrialView::Place::memory || view().trial.place == TrialView::Place::missing;
}

juce::String TrialMenu::stateWords() const
{
    const auto& trial = view().trial;
    const auto folder = folderWords(juce::String(trial.folder));
    switch (trial.place)
    {
    case TrialView::Place::unnamed:
        return "Nothing is on disk yet. It is kept with the first take, in " +
               folderWords(juce::String(view().trialsFolder)) + ".";
    case TrialView::Place::folder:
        return "Kept in " + folder + ".";
    case TrialView::Place::memory:
        return "Its folder cannot be written: " +
               (trial.takesInMemory == 1 ? juce::String("1 take is")
                                         : juce::String(trial.takesInMemory) + " takes are") +
               " held in memory, until it is saved in another folder.";
    case TrialView::Place::missing:
        return "It is not where this session left it: " + folder + ". Locate it, or begin another.";
    case TrialView::Place::readOnly:
        return "Open to be read, not written: " + folder + ".";
    }
    return {};
}

}
