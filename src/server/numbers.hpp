#pragma once
#include <string>
#include <vector>

#include "base/message.hpp"
#include "server/target.hpp"

namespace zoneproof::server {

/// A whole number from 0 up to 10^15 of a path or query; a problem, and 0, where the text is none.
long long number_of(const std::string& text, const std::string& called, std::vector<Message>& problems);
/// Of the query; `otherwise` where it is not asked.
long long number_asked(const Target& target, const std::string& key, long long otherwise,
                       std::vector<Message>& problems);

/// A word of the query; empty where it is not asked, and a problem where it is none of those that are known.
std::string word_asked(const Target& target, const std::string& key, const std::vector<std::string>& known,
                       std::vector<Message>& problems);

/// One member of the query after another; what is there beyond is a problem.
void only_asked(const Target& target, const std::vector<std::string>& known, std::vector<Message>& problems);

}  // namespace zoneproof::server
