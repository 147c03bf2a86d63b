#include "Editor/CaptionSentence.h"

namespace plumbline
{

namespace
{
constexpr float roomLeft = 8.0f, roomAbove = 20.0f, roomBelow = 12.0f;

/** Words with the spaces after them, each with its own. */
juce::StringArray tokensOf(const juce::String& words)
{
    juce::StringArray tokens;
    for (int from = 0; from < words.length();)
    {
        int to = from;
        while (to < words.length() && words[to] != ' ')
            ++to;
        while (to < words.length() && words[to] == ' ')
            ++to;
        tokens.add(words.substring(from, to));
        from = to;
    }
    return tokens;
}
}

CaptionSentence::CaptionSentence(WindowContext& windowContext, float wordSize, float lineLead)
    : Part(windowContext), size(wordSize), lead(lineLead)
{
    setInterceptsMouseClicks(false, true);
    setFocusContainerType(FocusContainerType::focusContainer);
}

MenuWord& CaptionSentence::addMenu(const juce::String& id, const juce::String& title,
                                   juce::StringArray options)
{
    auto menu = std::make_unique<MenuWord>(context, title, std::move(options));
    return static_cast<MenuWord&>(take(id, std::move(menu)));
}

FigureWord& CaptionSentence::addFigure(const juce::String& id, const juce::String& title,
                                       const FigureRange& range)
{
    return static_cast<FigureWord&>(take(id, std::make_unique<FigureWord>(context, title, range)));
}

SentenceWord& CaptionSentence::take(const juce::String& id, std::unique_ptr<SentenceWord> word)
{
    word->setWordSize(size);
    word->onWidthChanged = [this] { layOut(); };
    word->onRemark = [this](const juce::String& remark)
    {
        if (onRemark != nullptr)
            onRemark(remark);
    };
    addAndMakeVisible(*word);
    return *(choices[id] = std::move(word));
}

SentenceWord* CaptionSentence::word(const juce::String& id) const
{
    const auto found = choices.find(id);
    return found != choices.end() ? found->second.get() : nullptr;
}

void CaptionSentence::setSentence(const juce::String& pattern)
{
    if (pattern == sentence)
        return;
    sentence = pattern;
    pieces.clear();
    for (auto rest = bound(pattern); rest.isNotEmpty();)
    {
        pieces.push_back({ rest.upToFirstOccurrenceOf("[", false, false), nullptr });
        rest = rest.fromFirstOccurrenceOf("[", false, false);
        if (auto* choice = word(rest.upToFirstOccurrenceOf("]", false, false)))
            pieces.push_back({ {}, choice });
        rest = rest.fromFirstOccurrenceOf("]", false, false);
    }
    for (auto& [id, choice] : choices)
        choice->setVisible(sentence.contains("[" + id + "]"));
    layOut();
}

void CaptionSentence::placeAt(int x, int baseline, float lineMeasure)
{
    origin = { x, baseline };
    measure = lineMeasure;
    layOut();
}

juce::String CaptionSentence::reads() const
{
    juce::String words;
    for (const auto& piece : pieces)
        words += piece.word != nullptr ? piece.word->shown() : piece.words;
    return words;
}

void CaptionSentence::layOut()
{
    placed.clear();
    lineCount = 1;
    juce::Point<float> pen{ roomLeft, roomAbove };
    for (const auto& piece : pieces)
        if (piece.word != nullptr)
            layChoice(*piece.word, pen);
        else
            layWords(piece.words, pen);
    last = pen;
    const auto height = roomAbove + static_cast<float>(lineCount - 1) * lead + roomBelow;
    setBounds(origin.x - static_cast<int>(roomLeft), origin.y - static_cast<int>(roomAbove),
              juce::roundToInt(measure + 2.0f * roomLeft), juce::roundToInt(height));
    setTitle(reads());
    repaint();
}

void CaptionSentence::breakLine(juce::Point<float>& pen)
{
    pen = { roomLeft, pen.y + lead };
    ++lineCount;
}

void CaptionSentence::layWords(const juce::String& words, juce::Point<float>& pen)
{
    for (auto token : tokensOf(words))
    {
        const auto wide = textWidth(token.trimEnd(), size, Weight::medium);
        const bool mayBreak =
            token.containsAnyOf("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789");
        if (mayBreak && pen.x > roomLeft && pen.x + wide > roomLeft + measure)
            breakLine(pen);
        if (pen.x == roomLeft)
            token = token.trimStart();
        if (token.trim().isNotEmpty())
            placed.push_back({ token.trimEnd(), pen.x, pen.y });
        pen.x += textWidth(token, size, Weight::medium);
    }
}

void CaptionSentence::layChoice(SentenceWord& choice, juce::Point<float>& pen)
{
    const auto wide = choice.wordsWidth();
    if (pen.x > roomLeft && pen.x + wide > roomLeft + measure)
        breakLine(pen);
    choice.placeAt(pen.x, pen.y);
    pen.x += wide;
}

void CaptionSentence::paint(juce::Graphics& g)
{
    for (const auto& part : placed)
        ink(g).text(part.x, part.baseline, part.words, size, palette().second, Weight::medium);
}

}
