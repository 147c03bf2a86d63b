#pragma once

#include "Editor/FigureWord.h"
#include "Editor/MenuWord.h"

#include <map>

namespace plumbline
{

/** A sentence in second ink whose choices can be changed where they stand. It describes a thing and is at the
    same time all the control that the thing has. */
class CaptionSentence final : public Part
{
public:
    explicit CaptionSentence(WindowContext& context, float size = 15.0f, float lead = 24.0f);

    /** Words, with the choices' ids in brackets: "sweep in [length] at [level]". An id that was not added is
        left out. */
    void setSentence(const juce::String& pattern);

    MenuWord& addMenu(const juce::String& id, const juce::String& title, juce::StringArray options);
    FigureWord& addFigure(const juce::String& id, const juce::String& title, const FigureRange& range);
    /** The choice of that id; null if there is none. */
    SentenceWord* word(const juce::String& id) const;

    /** What is to be said about what was typed; empty takes it back. */
    std::function<void(const juce::String&)> onRemark;

    /** Puts the start of the first line there and breaks the lines at `measure` px. */
    void placeAt(int x, int baseline, float measure);

    int lines() const noexcept { return lineCount; }

    /** Where the last line ends, and its baseline, in this component. */
    juce::Point<float> end() const noexcept { return last; }

    /** The sentence as it reads. */
    juce::String reads() const;

    void paint(juce::Graphics& g) override;

private:
    struct Piece
    {
        juce::String words;           ///< as they are, or:
        SentenceWord* word = nullptr; ///< a choice
    };

    struct Placed
    {
        juce::String words;
        float x, baseline;
    };

    SentenceWord& take(const juce::String& id, std::unique_ptr<SentenceWord> word);
    void layOut();
    void layWords(const juce::String& words, juce::Point<float>& pen);
    void layChoice(SentenceWord& word, juce::Point<float>& pen);
    void breakLine(juce::Point<float>& pen);

    const float size, lead;
    juce::String sentence;
    std::vector<Piece> pieces;
    std::vector<Placed> placed;
    std::map<juce::String, std::unique_ptr<SentenceWord>> choices;
    juce::Point<int> origin;
    float measure = 2000.0f;
    juce::Point<float> last;
    int lineCount = 1;
};

}
