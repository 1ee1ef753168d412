#include "base/json_patch.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <nlohmann/json.hpp>

#include "base/json_pointer.hpp"
#include "base/json_text.hpp"

namespace zoneproof {
namespace {

using Json = nlohmann::ordered_json;

struct Example {
  const char* section;
  const char* before;
  const char* patch;
  const char* after;   ///< nullptr where the patch must be refused
  const char* reason;  ///< the message's code then
};

// RFC 6902 appendix A: every example that is about an operation (A.13 is a duplicate key, which parse_json() refuses).
const Example kStandard[] = {
    {"A.1", R"({"foo": "bar"})", R"([{"op": "add", "path": "/baz", "value": "qux"}])",
     R"({"baz": "qux", "foo": "bar"})", ""},
    {"A.2", R"({"foo": ["bar", "baz"]})", R"([{"op": "add", "path": "/foo/1", "value": "qux"}])",
     R"({"foo": ["bar", "qux", "baz"]})", ""},
    {"A.3", R"({"baz": "qux", "foo": "bar"})", R"([{"op": "remove", "path": "/baz"}])", R"({"foo": "bar"})", ""},
    {"A.4", R"({"foo": ["bar", "qux", "baz"]})", R"([{"op": "remove", "path": "/foo/1"}])",
     R"({"foo": ["bar", "baz"]})", ""},
    {"A.5", R"({"baz": "qux", "foo": "bar"})", R"([{"op": "replace", "path": "/baz", "value": "boo"}])",
     R"({"baz": "boo", "foo": "bar"})", ""},
    {"A.6", R"({"foo": {"bar": "baz", "waldo": "fred"}, "qux": {"corge": "grault"}})",
     R"([{"op": "move", "from": "/foo/waldo", "path": "/qux/thud"}])",
     R"({"foo": {"bar": "baz"}, "qux": {"corge": "grault", "thud": "fred"}})", ""},
    {"A.7", R"({"foo": ["all", "grass", "cows", "eat"]})", R"([{"op": "move", "from": "/foo/1", "path": "/foo/3"}])",
     R"({"foo": ["all", "cows", "eat", "grass"]})", ""},
    {"A.8", R"({"baz": "qux", "foo": ["a", 2, "c"]})",
     R"([{"op": "test", "path": "/baz", "value": "qux"}, {"op": "test", "path": "/foo/1", "value": 2}])",
     R"({"baz": "qux", "foo": ["a", 2, "c"]})", ""},
    {"A.9", R"({"baz": "qux"})", R"([{"op": "test", "path": "/baz", "value": "bar"}])", nullptr, "patch_test_failed"},
    {"A.10", R"({"foo": "bar"})", R"([{"op": "add", "path": "/child", "value": {"grandchild": {}}}])",
     R"({"foo": "bar", "child": {"grandchild": {}}})", ""},
    {"A.11", R"({"foo": "bar"})", R"([{"op": "add", "path": "/baz", "value": "qux", "xyz": 123}])",
     R"({"foo": "bar", "baz": "qux"})", ""},
    {"A.12", R"({"foo": "bar"})", R"([{"op": "add", "path": "/baz/bat", "value": "qux"}])", nullptr,
     "patch_path_missing"},
    {"A.14", R"({"/": 9, "~1": 10})", R"([{"op": "test", "path": "/~01", "value": 10}])", R"({"/": 9, "~1": 10})", ""},
    {"A.15", R"({"/": 9, "~1": 10})", R"([{"op": "test", "path": "/~01", "value": "10"}])", nullptr,
     "patch_test_failed"},
    {"A.16", R"({"foo": ["bar"]})", R"([{"op": "add", "path": "/foo/-", "value": ["abc", "def"]}])",
     R"({"foo": ["bar", ["abc", "def"]]})", ""},
};

// What the standard says in words (section 4), and what is refused here.
const Example kWords[] = {
    {"4.1 add replaces a member", R"({"a": 1})", R"([{"op": "add", "path": "/a", "value": 2}])", R"({"a": 2})", ""},
    {"4.1 add to the whole", R"({"a": 1})", R"([{"op": "add", "path": "", "value": [1]}])", "[1]", ""},
    {"4.1 index behind the end", "[1]", R"([{"op": "add", "path": "/2", "value": 2}])", nullptr, "patch_index_outside"},
    {"4.3 replace needs a target", "{}", R"([{"op": "replace", "path": "/a", "value": 2}])", nullptr,
     "patch_path_missing"},
    {"4.2 remove needs a target", "{}", R"([{"op": "remove", "path": "/a"}])", nullptr, "patch_path_missing"},
    {"4.2 remove the whole", "{}", R"([{"op": "remove", "path": ""}])", nullptr, "patch_whole_removed"},
    {"4.4 move into itself", R"({"a": {"b": 1}})", R"([{"op": "move", "from": "/a", "path": "/a/b"}])", nullptr,
     "patch_move_into_itself"},
    {"4.4 move to a parent", R"({"a": {"b": 1}})", R"([{"op": "move", "from": "/a/b", "path": "/a"}])", R"({"a": 1})",
     ""},
    {"4.4 move onto a member", R"({"a": 1, "b": 2})", R"([{"op": "move", "from": "/a", "path": "/b"}])", R"({"b": 1})",
     ""},
    {"4.4 indices after the removal", R"([1, {"x": 2}, {"x": 3}])", R"([{"op": "move", "from": "/0", "path": "/1/x"}])",
     R"([{"x": 2}, {"x": 1}])", ""},
    {"4.4 move from nothing", "{}", R"([{"op": "move", "from": "/a", "path": "/b"}])", nullptr, "patch_path_missing"},
    {"4.6 numbers by value", R"({"a": 1.0})", R"([{"op": "test", "path": "/a", "value": 1}])", R"({"a": 1})", ""},
    {"5 a failure leaves nothing behind", R"({"a": [1, 2], "b": 1})",
     R"([{"op": "remove", "path": "/a/0"}, {"op": "move", "from": "/b", "path": "/a/0"}, {"op": "move", "from": "/a/0", "path": "/x/y"}])",
     nullptr, "patch_path_missing"},
    {"no list", "{}", R"({"op": "remove"})", nullptr, "patch_not_a_list"},
    {"no object", "{}", "[1]", nullptr, "patch_not_an_object"},
    {"no op", "{}", R"([{"path": "/a"}])", nullptr, "patch_member_missing"},
    {"no path", "{}", R"([{"op": "remove"}])", nullptr, "patch_member_missing"},
    {"no value", "{}", R"([{"op": "add", "path": "/a"}])", nullptr, "patch_value_missing"},
    {"copy", "{}", R"([{"op": "copy", "from": "/a", "path": "/b"}])", nullptr, "patch_operation_unknown"},
    {"no pointer", "{}", R"([{"op": "remove", "path": "a"}])", nullptr, "patch_pointer_malformed"},
    {"inside a number", R"({"a": 1})", R"([{"op": "add", "path": "/a/b", "value": 1}])", nullptr, "patch_no_container"},
};

void hold(const Example& example) {
  SCOPED_TRACE(example.section);
  const Json before = Json::parse(example.before);
  Json document = before;
  Json undo;
  const std::vector<Message> messages = apply_patch(document, Json::parse(example.patch), &undo);
  if (example.after == nullptr) {
    ASSERT_EQ(messages.size(), 1U);
    EXPECT_EQ(messages.front().code, example.reason);
    EXPECT_FALSE(full_text(messages.front()).empty());
    EXPECT_TRUE(undo.is_null());
  } else {
    EXPECT_THAT(messages, testing::IsEmpty());
    EXPECT_EQ(write_json(document), write_json(Json::parse(example.after)));
    EXPECT_THAT(apply_patch(document, undo), testing::IsEmpty());
  }
  EXPECT_EQ(write_json(document), write_json(before));
}

TEST(ApplyPatch, DoesWhatTheExamplesOfTheStandardShow) {
  for (const Example& example : kStandard) hold(example);
}

TEST(ApplyPatch, DoesWhatTheStandardSaysAndRefusesTheRest) {
  for (const Example& example : kWords) hold(example);
}

TEST(ApplyPatch, NamesTheOperationAndThePointer) {
  Json document = Json::object();
  const auto messages = apply_patch(
      document, Json::parse(R"([{"op": "add", "path": "/a", "value": 1}, {"op": "remove", "path": "/zones/z9"}])"));
  ASSERT_EQ(messages.size(), 1U);
  EXPECT_EQ(text(messages.front()), "Operation 1 of the patch: there is nothing at /zones/z9.");
  EXPECT_EQ(messages.front().place.pointer, "/1");
}

/// A document of few keys, so that operations meet.
Json small_document(int depth) {
  const int kind = *rc::gen::inRange(0, depth > 0 ? 4 : 2);
  const int size = *rc::gen::inRange(0, 4);
  if (kind == 0) return *rc::gen::inRange(0, 3);
  if (kind == 1) return *rc::gen::element(Json(nullptr), Json("x"), Json(0.5), Json(true));
  Json out = kind == 2 ? Json::array() : Json::object();
  for (int i = 0; i < size; ++i) {
    if (kind == 2) {
      out.push_back(small_document(depth - 1));
    } else {
      out[*rc::gen::element<std::string>("a", "b", "c", "~/")] = small_document(depth - 1);
    }
  }
  return out;
}

std::string some_pointer() {
  std::string pointer;
  const int length = *rc::gen::inRange(0, 4);
  for (int i = 0; i < length; ++i) {
    pointer = pointer_child(pointer, *rc::gen::element<std::string>("a", "b", "c", "~/", "0", "1", "2", "-"));
  }
  return pointer;
}

/// Operations that apply one after the other; those that do not are left out.
Json patch_for(Json document) {
  Json patch = Json::array();
  for (int i = 0; i < 30; ++i) {
    const std::string op = *rc::gen::element<std::string>("add", "remove", "replace", "move");
    Json operation = {{"op", op}, {"path", some_pointer()}};
    if (op == "move") operation["from"] = some_pointer();
    if (op == "add" || op == "replace") operation["value"] = small_document(1);
    if (apply_patch(document, Json::array({operation})).empty()) patch.push_back(operation);
  }
  return patch;
}

RC_GTEST_PROP(PatchProperty, PatchThenInverseIsIdentity, ()) {
  const Json before = small_document(3);
  const Json patch = patch_for(before);
  RC_CLASSIFY(patch.size() >= 4, "four operations or more");
  std::vector<Message> messages;
  const Json inverse = inverse_patch(before, patch, messages);
  RC_ASSERT(messages.empty());
  Json document = before;
  RC_ASSERT(apply_patch(document, patch).empty());
  RC_ASSERT(apply_patch(document, inverse).empty());
  RC_ASSERT(write_json(document) == write_json(before));
}

RC_GTEST_PROP(PatchProperty, AFailingPatchChangesNothing, ()) {
  const Json before = small_document(3);
  Json patch = patch_for(before);
  patch.push_back({{"op", "test"}, {"path", ""}, {"value", "nothing is this"}});
  Json document = before;
  RC_ASSERT(apply_patch(document, patch).size() == 1);
  RC_ASSERT(write_json(document) == write_json(before));
}

RC_GTEST_PROP(PatchProperty, TheDifferenceLeadsFromOneToTheOther, ()) {
  const Json from = small_document(3);
  const Json to = small_document(3);
  Json document = from;
  RC_ASSERT(apply_patch(document, difference(from, to)).empty());
  RC_ASSERT(write_json(document) == write_json(to));
  RC_ASSERT(difference(from, from).empty());
}

TEST(Difference, TouchesOnlyWhatChanged) {
  const Json from = Json::parse(R"({"a": {"x": 1, "y": [1, 2, 3, 4]}, "b": 1})");
  const Json to = Json::parse(R"({"a": {"x": 1, "y": [1, 3, 4]}, "c": 2})");
  EXPECT_EQ(difference(from, to).dump(),
            R"([{"op":"remove","path":"/a/y/1"},{"op":"remove","path":"/b"},{"op":"add","path":"/c","value":2}])");
}

}  // namespace
}  // namespace zoneproof
