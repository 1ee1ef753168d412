#pragma once
#include <string>

#include "handover/answers.hpp"
#include "paper/pages.hpp"

namespace zoneproof::handover {

/// A site of data/demo/ by name ("saltmarsh"); throws where it cannot be read.
site::Site demo_site(const std::string& name);

/// Its answers, computed once for all tests of a program.
const Answers& demo_answers(const std::string& name);

/// What its pages tell of the document.
paper::Style demo_style(const site::Site& site, drawing::Format paper);

}  // namespace zoneproof::handover
