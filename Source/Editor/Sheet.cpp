#include "Editor/Sheet.h"

#include "Editor/Board.h"
#include "Editor/CapturePage.h"
#include "Editor/CarePage.h"
#include "Editor/ConnectPage.h"
#include "Editor/LaterPage.h"
#include "Editor/Popover.h"
#include "Editor/StageNotes.h"
#include "Editor/TrialMenu.h"

namespace plumbline
{

namespace
{

constexpr std::size_t rememberedStages = 16;
constexpr int boardRight = 612;

std::unique_ptr<Part> pageOf(Stage stage, WindowContext& context)
{
    if (stage == Stage::connect)
        return std::make_unique<ConnectPage>(context);
    if (stage == Stage::capture)
        return std::make_unique<CapturePage>(context);
    return std::make_unique<LaterPage>(context, stage);
}

}

Sheet::Sheet(WindowContext& windowContext) : Part(windowContext), head(windowContext), strip(windowContext)
{
    context.goTo = [this](Stage stage) { goTo(stage); };
    context.showCare = [this](bool open) { showCare(open); };
    context.showTrialMenu = [this] { showMenu(!menuIsOpen()); };
    for (const auto stage : stages)
        pages[static_cast<std::size_t>(stage)] = pageOf(stage, context);
    board = std::make_unique<Board>(context);
    care = std::make_unique<CarePage>(context);
    menu = std::make_unique<TrialMenu>(context);
    for (auto& each : pages)
        addChildComponent(*each);
    for (auto* each : { board.get(), care.get() })
        addChildComponent(*each);
    addChildComponent(strip);
    addAndMakeVisible(head);
    addChildComponent(*menu);
    setBounds(0, 0, place::width, place::height);
    board->setBounds(place::margin, place::headerHeight, boardRight - place::margin,
                     place::wordsBottom - place::headerHeight);
    care->setBounds(0, place::headerHeight, place::width, place::stripTop - place::headerHeight);
    menu->setTopLeftPosition(place::margin, place::headerHeight);
    auto order = 1;
    for (auto* each : std::initializer_list<Part*>{ &head, menu.get(), care.get(), board.get() })
        each->setExplicitFocusOrder(order++);
    for (auto& each : pages)
        each->setExplicitFocusOrder(order);
    addMouseListener(this, true);
    head.stageChanged(false);
    arrange();
    viewChanged();
}

Sheet::~Sheet()
{
    removeMouseListener(this);
}

/** Shows or hides a part. The window takes the keyboard from what is hidden. */
void Sheet::put(Part& part, bool shown)
{
    if (!shown && part.hasKeyboardFocus(true) && getParentComponent() != nullptr)
        getParentComponent()->grabKeyboardFocus();
    part.setVisible(shown);
}

/** The way to the first curve: the page tells what is heard, so there is no strip. */
bool Sheet::isFirstRun() const
{
    return context.stage == Stage::connect && view().trial.trial->takes.empty() &&
           view().trial.curves.empty() && !context.live.sounds() && !context.live.mustAcknowledge;
}

void Sheet::arrange()
{
    const auto covered = careIsOpen();
    strip.setVisible(!isFirstRun() || covered);
    const auto bottom = strip.isVisible() ? place::stripTop : place::height;
    for (auto& each : pages)
    {
        const auto shown = each.get() == &page() && !covered;
        each->setBounds(0, place::headerHeight, place::width, bottom - place::headerHeight);
        if (shown && !each->isVisible())
        {
            each->viewChanged();
            each->liveChanged();
        }
        put(*each, shown);
    }
    put(*board, !covered);
    repaint();
}

void Sheet::viewChanged()
{
    for (auto* each : std::initializer_list<Part*>{ &head, &strip, board.get(), &page() })
        each->viewChanged();
    for (auto* each : { care.get(), menu.get() })
        if (each->isVisible())
            each->viewChanged();
    if (strip.isVisible() == (isFirstRun() && !careIsOpen()))
        arrange();
    repaint();
}

void Sheet::liveChanged()
{
    head.liveChanged();
    strip.liveChanged();
    for (auto* each : { board.get(), &page(), care.get(), menu.get() })
        if (each->isVisible())
            each->liveChanged();
    if (strip.isVisible() == (isFirstRun() && !careIsOpen()))
        arrange();
}

void Sheet::goTo(Stage stage)
{
    if (stage != context.stage)
    {
        before.push_back(context.stage);
        if (before.size() > rememberedStages)
            before.erase(before.begin());
    }
    showStage(stage);
}

void Sheet::showStage(Stage stage)
{
    showMenu(false);
    showCare(false);
    if (stage == context.stage)
        return;
    context.stage = stage;
    head.stageChanged(true);
    board->viewChanged();
    arrange();
}

void Sheet::showCare(bool open)
{
    showMenu(false);
    if (open == careIsOpen())
        return;
    if (open)
        care->viewChanged();
    put(*care, open);
    arrange();
    if (open && isShowing())
        care->grabKeyboardFocus();
}

void Sheet::showMenu(bool open)
{
    if (open == menuIsOpen())
        return;
    if (open)
        menu->viewChanged();
    else if (menu->hasKeyboardFocus(true))
        head.trialName().grabKeyboardFocus();
    menu->setVisible(open);
    if (open && isShowing())
        menu->grabKeyboardFocus();
}

void Sheet::closeOrStepBack()
{
    if (closeWhatIsOpen(*this))
        return;
    if (menuIsOpen())
        return showMenu(false);
    if (careIsOpen())
        return showCare(false);
    if (before.empty())
        return;
    const auto stage = before.back();
    before.pop_back();
    showStage(stage);
}

/** Also told of presses in every part: one outside the menu closes it, unless it is in what the menu opened. */
void Sheet::mouseDown(const juce::MouseEvent& event)
{
    auto* pressed = event.originalComponent;
    const auto within = [pressed](juce::Component& part)
    { return pressed == &part || part.isParentOf(pressed); };
    const auto inPopover = dynamic_cast<Popover*>(pressed) != nullptr ||
                           pressed->findParentComponentOfClass<Popover>() != nullptr;
    if (menuIsOpen() && !inPopover && !within(*menu) && !within(head.trialName()))
        showMenu(false);
}

void Sheet::paint(juce::Graphics& g)
{
    if (!careIsOpen())
        ink(g).rule(place::wordsBottom, 0.0f, place::width);
}

}
