#pragma once

#include "Editor/Pressable.h"

namespace plumbline
{

/** Opens the page of cautions from every stage. */
class CareWord final : public Pressable
{
public:
    explicit CareWord(WindowContext& windowContext);

private:
    void draw(const Ink& ink) override;
};

}
