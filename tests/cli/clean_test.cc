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

TEST(Clean, TakesOutWhatSteersATerminal) {
  EXPECT_EQ(CleanLine("\x1b[2Jgone"), "?[2Jgone");
  EXPECT_EQ(CleanLine("a\rb\bc\x7f" + std::string(1, '\0')), "a?b?c??");
  EXPECT_EQ(CleanLine("a\xc2\x9b"
                      "2J"),
            "a?2J");
  EXPECT_EQ(CleanLine("a\xe2\x80\xae"
                      "b\xe2\x81\xa6"
                      "c\xe2\x80\xa8"),
            "a?b?c?");
}

TEST(Clean, TakesOutBytesThatAreNotUtf8) {
  EXPECT_EQ(CleanLine("a\xff"
                      "b"),
            "a?b");
  EXPECT_EQ(CleanLine("a\xe2\x82"), "a??");
  EXPECT_EQ(CleanLine("\xc0\x9b"), "??");
}

TEST(Clean, KeepsNewlinesOnlyInBlocks) {
  EXPECT_EQ(CleanLine("a\nb\tc"), "a b c");
  EXPECT_EQ(CleanBlock("a\nb\x1b"), "a\nb?");
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
    EXPECT_THAT(text, testing::HasSubstr("?[31m"));
  }
}

}  // namespace
}  // namespace turnstone::cli
