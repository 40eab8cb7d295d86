// Source: ECMA-48 (control functions), Unicode 15 section 23.2 (bidirectional
// controls), RFC 3629 (UTF-8).
#include "clients/cli/render/clean.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>

#include "clients/cli/render/alert_list.h"
#include "clients/cli/render/alert_page.h"
#include "clients/cli/render/alert_state.h"
#include "clients/cli/render/due_page.h"
#include "clients/cli/render/duty_page.h"
#include "clients/cli/render/outbox_page.h"
#include "clients/cli/render/participant_page.h"

namespace turnstone::cli {
namespace {

TEST(Clean, LeavesTextAlone) {
  const std::string text = "Ní bheidh sé ann: 5 °C – 10 €, 👍";
  EXPECT_EQ(CleanLine(text), text);
}

struct Hostile {
  std::string text;
  std::string shown;
};

TEST(Clean, WritesOutWhatSteersOrDeceives) {
  const std::vector<Hostile> all = {
      {"\x1b[2Jgone", R"(\u001b[2Jgone)"},
      {"a\rb\bc\x7f" + std::string(1, '\0'), R"(a\u000db\u0008c\u007f\u0000)"},
      {"C1: \xc2\x9b"
       "2J",
       R"(C1: \u009b2J)"},
      {"override \xe2\x80\xae"
       "txt.exe",
       R"(override \u202etxt.exe)"},
      {"isolate \xe2\x81\xa6"
       "x",
       R"(isolate \u2066x)"},
      {"line \xe2\x80\xa8"
       "end",
       R"(line \u2028end)"},
      {"no\xe2\x80\x8bwidth", R"(no\u200bwidth)"},
      {"mark \xef\xbb\xbf", R"(mark \ufeff)"},
      {"soft\xc2\xadhyphen", R"(soft\u00adhyphen)"},
      {"tag \xf3\xa0\x81\x81", R"(tag \udb40\udc41)"},
  };
  for (const Hostile& one : all) EXPECT_EQ(CleanLine(one.text), one.shown);
}

TEST(Clean, WritesOutBytesThatAreNotUtf8) {
  const std::vector<Hostile> all = {
      {"a\xff"
       "b",
       R"(a\xffb)"},
      {"a\xe2\x82", R"(a\xe2\x82)"},
      // An escape and a surrogate in more bytes than need be, and beyond the
      // last character.
      {"\xc0\x9b", R"(\xc0\x9b)"},
      {"\xe0\x80\x9b[2J", R"(\xe0\x80\x9b[2J)"},
      {"\xf0\x80\x80\x9b", R"(\xf0\x80\x80\x9b)"},
      {"\xed\xa0\x80", R"(\xed\xa0\x80)"},
      {"\xf4\x90\x80\x80", R"(\xf4\x90\x80\x80)"},
  };
  for (const Hostile& one : all) EXPECT_EQ(CleanLine(one.text), one.shown);
}

TEST(Clean, KeepsNewlinesOnlyInBlocks) {
  EXPECT_EQ(CleanLine("a\nb\tc"), "a b c");
  EXPECT_EQ(CleanBlock("a\nb\x1b"), "a\nb\\u001b");
}

// Every text of a message, whatever its depth, holds an escape character.
void Poison(google::protobuf::Message& message, int depth) {
  const auto& reflection = *message.GetReflection();
  const auto& type = *message.GetDescriptor();
  for (int i = 0; i < type.field_count(); ++i) {
    const auto* field = type.field(i);
    const bool many = field->is_repeated();
    if (field->cpp_type() == field->CPPTYPE_STRING) {
      many ? reflection.AddString(&message, field, "\x1b[31m")
           : reflection.SetString(&message, field, "\x1b[31m");
    } else if (field->cpp_type() == field->CPPTYPE_MESSAGE && depth > 0) {
      Poison(many ? *reflection.AddMessage(&message, field)
                  : *reflection.MutableMessage(&message, field),
             depth - 1);
    }
  }
}

TEST(Clean, NothingRenderedHoldsAnEscape) {
  v1::Alert alert;
  Poison(alert, 6);
  v1::ParticipantView view;
  Poison(view, 8);
  v1::OnCall on_call;
  Poison(on_call, 6);
  v1::Handover handover;
  Poison(handover, 8);
  v1::DueList due;
  Poison(due, 6);
  v1::Outbox outbox;
  Poison(outbox, 6);
  const absl::Time now = absl::UnixEpoch();
  for (const std::string& text :
       {AlertPage(alert, now), AlertLine(alert), AlertTable({alert}, now),
        ParticipantPage(view), Standing(alert), OnCallPage(on_call),
        HandoverPage(handover, ""), OfferedText(handover, ""),
        TakenText(handover, ""), DeclinedText(handover), DuePage(due, now),
        OutboxPage(outbox)}) {
    EXPECT_THAT(text, testing::Not(testing::HasSubstr("\x1b")));
    EXPECT_THAT(text, testing::HasSubstr("\\u001b[31m"));
  }
}

}  // namespace
}  // namespace turnstone::cli
