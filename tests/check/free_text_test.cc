// What looks as if it said who somebody is. Common practice, no source;
// numbers are ones set aside for fiction (Ofcom's and NANPA's lists) or plainly
// made up.
#include "rules/check/free_text.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "turnstone/v1/service.pb.h"

namespace turnstone {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

const char* const kMail = "an e-mail address";
const char* const kTelephone = "a telephone number";
const char* const kNational = "a national number";

TEST(FreeText, FindsWhatIdentifies) {
  EXPECT_THAT(Identifying("write to ann.other@example.org."),
              ElementsAre(kMail));
  EXPECT_THAT(Identifying("(Ann.Other+x@mail.example.org)"),
              ElementsAre(kMail));
  for (const char* text :
       {"ring 020 7946 0958", "+44 20 7946 0958 after six", "(212) 555-0123",
        "555-0123", "tel. 07700900123", "078-05-1120"}) {
    EXPECT_THAT(Identifying(text), ElementsAre(kTelephone)) << text;
  }
  for (const char* text : {"NI QQ123456C", "dni 00000000T", "(X0000000T)"}) {
    EXPECT_THAT(Identifying(text), ElementsAre(kNational)) << text;
  }
  EXPECT_THAT(Identifying("a@example.org, 555-0123"),
              ElementsAre(kMail, kTelephone));
}

TEST(FreeText, LeavesOrdinaryNotesAlone) {
  for (const char* text :
       {"", "Spoke with the daughter; visit moved to 2027-03-17 at 10:30.",
        "17.3.2027 and 18.3.2027", "PHQ-9 14 then 12, then 9", "at 9 @ home",
        "see A-1234 and visit-3", "rang twice, 15:00 and 16:00",
        "from 2027-01-04 to 2027-03-28 12 visits", "room 4711, floor 3"}) {
    EXPECT_THAT(Identifying(text), IsEmpty()) << text;
  }
}

TEST(FreeText, WarnsWhereItStandsWithoutRepeatingIt) {
  v1::WorkAlertRequest close;
  close.set_alert_id("A-1");
  close.mutable_close()->set_note("rang 555-0123");
  EXPECT_THAT(FreeTextWarnings(close),
              ElementsAre(testing::AllOf(
                  testing::StartsWith("close.note: holds what looks like a "
                                      "telephone number; "),
                  Not(HasSubstr("555")))));
  v1::SubmitRequest mend;
  mend.mutable_event()->mutable_correction()->set_reason("a@example.org said");
  EXPECT_THAT(FreeTextWarnings(mend),
              ElementsAre(HasSubstr("event.correction.reason: ")));
  close.mutable_close()->set_note("spoke with them");
  EXPECT_THAT(FreeTextWarnings(close), IsEmpty());
  // Only where people write.
  close.set_alert_id("555-0123");
  EXPECT_THAT(FreeTextWarnings(close), IsEmpty());
}

}  // namespace
}  // namespace turnstone
