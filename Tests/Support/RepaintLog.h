#pragma once

#include <juce_gui_basics/juce_gui_basics.h>

namespace plumbline::test
{

/** Writes down which areas a component asks to be repainted. Lives as long as the component. */
class RepaintLog
{
public:
    explicit RepaintLog(juce::Component& component)
    {
        component.setVisible(true);
        auto watcher = std::make_unique<Watcher>(component.getLocalBounds());
        areas = watcher->areas;
        component.setCachedComponentImage(watcher.release());
        areas->clear(); // that itself asked for a repaint
    }

    /** Areas asked for since the last call. */
    std::vector<juce::Rectangle<int>> taken() { return std::exchange(*areas, {}); }

    /** Pixels in them, each counted once. */
    int pixelsTaken()
    {
        juce::RectangleList<int> all;
        for (const auto& area : taken())
            all.add(area);
        int count = 0;
        for (const auto& area : all)
            count += area.getWidth() * area.getHeight();
        return count;
    }

private:
    using Areas = std::vector<juce::Rectangle<int>>;

    struct Watcher final : juce::CachedComponentImage
    {
        explicit Watcher(juce::Rectangle<int> wholeArea) : whole(wholeArea) {}

        void paint(juce::Graphics&) override {}

        bool invalidateAll() override
        {
            areas->push_back(whole);
            return true;
        }

        bool invalidate(const juce::Rectangle<int>& area) override
        {
            areas->push_back(area.getIntersection(whole));
            return true;
        }

        void releaseResources() override {}

        juce::Rectangle<int> whole;
        std::shared_ptr<Areas> areas = std::make_shared<Areas>();
    };

    std::shared_ptr<Areas> areas;
};

}
