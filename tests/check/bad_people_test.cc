// Slips in what a site file says of its people. Expectations: the comments of
// duty.proto and site.proto and, for what they do not say, plain reading; no
// outside source.
#include <gtest/gtest.h>

#include "tests/check/bad_file.h"

namespace turnstone {
namespace {

class BadPeopleTest : public ::testing::TestWithParam<BadFile> {};

TEST_P(BadPeopleTest, IsReported) {
  ExpectFindings("sites/harbour-row.textproto", GetParam());
}

const std::vector<BadFile> kPeopleSlips = {
    {"RolePattern",
     "id: \"planner\"",
     "id: \"Planner\"",
     {":38:8: id \"Planner\" holds other characters than lower-case letters, "
      "digits and hyphens; write it with lower-case letters, digits and "
      "hyphens only, such as \"low-score-2\""}},
    {"RoleTwice",
     "id: \"planner\"",
     "id: \"clinician\"",
     {":38:8: role \"clinician\" is used a second time; choose another; the "
      "first is on line 32"}},
    {"RoleIntakeSystem",
     "id: \"planner\"",
     "id: \"intake-system\"",
     {":38:8: role \"intake-system\" is the service's own; choose another "
      "name"}},
    {"RoleOperator",
     "id: \"planner\"",
     "id: \"operator\"",
     {":38:8: role \"operator\" is the service's own; choose another name"}},
    {"RoleAuditor",
     "id: \"planner\"",
     "id: \"auditor\"",
     {":38:8: role \"auditor\" is the service's own; choose another name"}},
    {"RoleService",
     "id: \"planner\"",
     "id: \"service\"",
     {":38:8: role \"service\" is the service's own; choose another name"},
     {"role-reserved"}},
    {"RoleWithoutTitle",
     " title: \"Planner\"",
     "",
     {":38:1: title is missing or empty; write title: \"...\" with words for "
      "people"}},
    {"RoleThatMayNothing",
     " may: CANCEL }",
     " }",
     {":38:1: may is missing; write may: with one of WORK, CLOSE_LATCHED, "
      "CANCEL, CONFIRM, HAND_OVER, ACTIVATE_RULES, BACK_UP or ERASE, once or "
      "more"}},
    {"RightTwice",
     "CONFIRM, HAND_OVER]",
     "CONFIRM, CANCEL]",
     {":36:3: may \"CANCEL\" is used a second time; choose another; the first "
      "is on line 36"}},
    {"RightUnspecified",
     "may: CANCEL }",
     "may: RIGHT_UNSPECIFIED }",
     {":38:39: may is unspecified; write may: with one of WORK, CLOSE_LATCHED, "
      "CANCEL, CONFIRM, HAND_OVER, ACTIVATE_RULES, BACK_UP or ERASE, once or "
      "more"}},
    {"PersonWithoutId",
     "  id: \"h.teasel\"\n",
     "",
     {":39:1: id is missing or empty; write id: \"...\" with the name they "
      "call the service by"}},
    {"PersonIdComma",
     "id: \"h.teasel\"",
     "id: \"h,teasel\"",
     {":40:3: id \"h,teasel\" cannot be a person's; write 1 to 100 printable "
      "ASCII characters, without comma or slash and without a space at either "
      "end, such as \"r.sorrel\""},
     {"name-not-plain"}},
    {"PersonIdSlash",
     "id: \"h.teasel\"",
     "id: \"h/teasel\"",
     {":40:3: id \"h/teasel\" cannot be a person's; write 1 to 100 printable "
      "ASCII characters, without comma or slash and without a space at either "
      "end, such as \"r.sorrel\""}},
    {"PersonIdSpaceBefore",
     "id: \"h.teasel\"",
     "id: \" h.teasel\"",
     {":40:3: id \" h.teasel\" cannot be a person's; write 1 to 100 printable "
      "ASCII characters, without comma or slash and without a space at either "
      "end, such as \"r.sorrel\""}},
    {"PersonIdSpaceAfter",
     "id: \"h.teasel\"",
     "id: \"h.teasel \"",
     {":40:3: id \"h.teasel \" cannot be a person's; write 1 to 100 printable "
      "ASCII characters, without comma or slash and without a space at either "
      "end, such as \"r.sorrel\""}},
    {"PersonIdTab",
     "id: \"h.teasel\"",
     "id: \"h\\tteasel\"",
     {":40:3: id \"h\tteasel\" cannot be a person's; write 1 to 100 printable "
      "ASCII characters, without comma or slash and without a space at either "
      "end, such as \"r.sorrel\""}},
    {"PersonIdTooLong",
     "id: \"h.teasel\"",
     "id: "
     "\"hhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhh"
     "hhhhhhhhhhhhhhhhhhhhhhhhhhhhhh\"",
     {":40:3: id "
      "\"hhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhh"
      "hhhhhhhhhhhhhhhhhhhhhhhhhhhhhhh\" cannot be a person's; write 1 to 100 "
      "printable ASCII characters, without comma or slash and without a space "
      "at either end, such as \"r.sorrel\""}},
    {"CertificateIsNoUri",
     "id: \"h.teasel\"",
     "id: \"h.teasel\" certificate_uri: \"h.teasel\"",
     {":40:18: certificate_uri \"h.teasel\" is no URI; write what stands as "
      "URI in the certificate's subjectAltName, at most 200 characters, such "
      "as \"spiffe://harbour-row.example/person/h.teasel\""}},
    {"CertificateOfTwo",
     "person { id: \"d.yarrow\"",
     "system { id: \"in\" role: \"intake-system\" certificate_uri: \"x:y\" }\n"
     "person { certificate_uri: \"x:y\" id: \"d.yarrow\"",
     {":46:41: certificate_uri \"x:y\" is used a second time; choose another; "
      "the first is on line 47",
      ":46:41: \"x:y\" is d.yarrow's already; give each caller a "
      "certificate of their own, and the same id at every site"}},
    {"SystemOfARoleForPeople",
     "person { id: \"d.yarrow\"",
     "system { id: \"in\" role: \"planner\" }\nperson { id: \"d.yarrow\"",
     {":46:19: role \"planner\" is none that a system has; write "
      "intake-system, operator or auditor; whoever is a person stands under "
      "person"}},
    {"SystemLikeAPerson",
     "person { id: \"d.yarrow\"",
     "system { id: \"h.teasel\" role: \"auditor\" }\n"
     "person { id: \"d.yarrow\"",
     {":46:10: person \"h.teasel\" is used a second time; choose another; the "
      "first is on line 40"}},
    {"PersonTwice",
     "id: \"h.teasel\"",
     "id: \"p.clary\"",
     {":47:10: person \"p.clary\" is used a second time; choose another; the "
      "first is on line 40"}},
    {"PersonWithoutRole",
     "person { id: \"d.yarrow\"",
     "person { id: \"x.vetch\" }\nperson { id: \"d.yarrow\"",
     {":46:1: role is missing or empty; write role: \"...\" with the id of a "
      "role"}},
    {"PersonOfUnknownRole",
     "person { id: \"d.yarrow\"",
     "person { id: \"x.vetch\" role: \"plannr\" }\nperson { id: \"d.yarrow\"",
     {":46:24: there is no role \"plannr\"; did you mean \"planner\"? There is "
      "clinician, on-call-lead or planner"}},
    {"ReachWithoutChannel",
     "reach { channel: \"hook\" }",
     "reach {}",
     {":43:3: channel is missing or empty; write channel: \"...\" with the id "
      "of a channel"}},
    {"ReachByUnknownChannel",
     "reach { channel: \"hook\" }",
     "reach { channel: \"hok\" }",
     {":43:11: there is no channel \"hok\"; did you mean \"hook\"? There is "
      "hook or mail"}},
    {"ReachTwice",
     "reach { channel: \"hook\" }",
     "reach { channel: \"mail\" address: \"h@harbour-row.example\" }",
     {":43:11: channel \"mail\" is used a second time; choose another; the "
      "first is on line 42"}},
    {"NoAddress",
     " address: \"h.teasel@harbour-row.example\"",
     "",
     {":42:3: address is missing or empty; write address: \"...\" with the "
      "e-mail address"}},
    {"AddressWithoutAt",
     "address: \"h.teasel@harbour-row.example\"",
     "address: \"h.teasel\"",
     {":42:27: address \"h.teasel\" is no e-mail address; write it without a "
      "name or brackets, such as \"somebody@harbour-row.example\""}},
    {"AddressTwoAts",
     "address: \"h.teasel@harbour-row.example\"",
     "address: \"h@teasel@harbour-row.example\"",
     {":42:27: address \"h@teasel@harbour-row.example\" is no e-mail address; "
      "write it without a name or brackets, such as "
      "\"somebody@harbour-row.example\""}},
    {"AddressWithoutName",
     "address: \"h.teasel@harbour-row.example\"",
     "address: \"@harbour-row.example\"",
     {":42:27: address \"@harbour-row.example\" is no e-mail address; write it "
      "without a name or brackets, such as \"somebody@harbour-row.example\""}},
    {"AddressWithoutHost",
     "address: \"h.teasel@harbour-row.example\"",
     "address: \"h.teasel@\"",
     {":42:27: address \"h.teasel@\" is no e-mail address; write it without a "
      "name or brackets, such as \"somebody@harbour-row.example\""}},
    {"AddressBrackets",
     "address: \"h.teasel@harbour-row.example\"",
     "address: \"<h.teasel@harbour-row.example>\"",
     {":42:27: address \"<h.teasel@harbour-row.example>\" is no e-mail "
      "address; write it without a name or brackets, such as "
      "\"somebody@harbour-row.example\""}},
    {"AddressSpace",
     "address: \"h.teasel@harbour-row.example\"",
     "address: \"h teasel@harbour-row.example\"",
     {":42:27: address \"h teasel@harbour-row.example\" is no e-mail address; "
      "write it without a name or brackets, such as "
      "\"somebody@harbour-row.example\""}},
    {"AddressComma",
     "address: \"h.teasel@harbour-row.example\"",
     "address: \"h,t@harbour-row.example\"",
     {":42:27: address \"h,t@harbour-row.example\" is no e-mail address; write "
      "it without a name or brackets, such as "
      "\"somebody@harbour-row.example\""}},
    {"AddressNotAscii",
     "address: \"h.teasel@harbour-row.example\"",
     "address: \"h.téasel@harbour-row.example\"",
     {":42:27: address \"h.téasel@harbour-row.example\" is no e-mail address; "
      "write it without a name or brackets, such as "
      "\"somebody@harbour-row.example\""}},
    {"AddressForAWebhook",
     "reach { channel: \"hook\" }",
     "reach { channel: \"hook\" address: \"x\" }",
     {":43:27: a webhook takes no address; leave it out; the receiver knows "
      "the person by the id"},
     {"address-not-needed"}},
    {"DigestAtMidnight",
     "\"08:45\"",
     "\"24:00\"",
     {":44:3: digest_at \"24:00\" is not a time of day; write hours and "
      "minutes from \"00:00\" to \"23:59\", such as \"09:00\""}},
    {"NobodyMayWork",
     "may: [WORK, CLOSE_LATCHED] }\nrole {\n  id: \"on-call-lead\"\n  title: "
     "\"On-call lead\"\n  may: [WORK, CLOSE_LATCHED, CANCEL",
     "may: [CLOSE_LATCHED] }\nrole {\n  id: \"on-call-lead\"\n  title: "
     "\"On-call lead\"\n  may: [CLOSE_LATCHED, CANCEL",
     {": nobody may WORK, so no alert could be received; write may: WORK in a "
      "role, and a person { ... } who has that role"},
     {"nobody-may"}},
    {"NobodyMayCloseLatched",
     "may: [WORK, CLOSE_LATCHED] }\nrole {\n  id: \"on-call-lead\"\n  title: "
     "\"On-call lead\"\n  may: [WORK, CLOSE_LATCHED, CANCEL",
     "may: [WORK] }\nrole {\n  id: \"on-call-lead\"\n  title: \"On-call "
     "lead\"\n  may: [WORK, CANCEL",
     {": nobody may CLOSE_LATCHED, so a latched alert could never be closed; "
      "write may: CLOSE_LATCHED in a role, and a person { ... } who has that "
      "role"}},
    {"NobodyMayConfirm",
     "CONFIRM, HAND_OVER]",
     "HAND_OVER]",
     {":117:1: no second person could confirm what the first has closed; let "
      "another person have a role that may CONFIRM, or leave second_person "
      "out"},
     {"no-second-person"}},
    {"TheOnlyOneWhoMayConfirmMayAlsoClose",
     "CONFIRM, HAND_OVER]\n}\nrole { id: \"planner\" title: \"Planner\" may: "
     "CANCEL }\n",
     "HAND_OVER]\n}\nrole { id: \"planner\" title: \"Planner\" may: "
     "[CLOSE_LATCHED, CONFIRM] }\nperson { id: \"x.vetch\" role: \"planner\" "
     "}\n",
     {":118:1: no second person could confirm what the first has closed; let "
      "another person have a role that may CONFIRM, or leave second_person "
      "out"}},
    {"OnePersonAloneCannotConfirm",
     "may: [WORK, CLOSE_LATCHED] }\nrole {\n  id: \"on-call-lead\"\n  title: "
     "\"On-call lead\"\n  may: [WORK, CLOSE_LATCHED, CANCEL, CONFIRM, "
     "HAND_OVER]\n}\nrole { id: \"planner\" title: \"Planner\" may: CANCEL }\n",
     "may: WORK }\nrole {\n  id: \"on-call-lead\"\n  title: \"On-call lead\"\n "
     " may: WORK\n}\nrole { id: \"planner\" title: \"Planner\" may: "
     "[CLOSE_LATCHED, CONFIRM] }\nperson { id: \"x.vetch\" role: \"planner\" "
     "}\n",
     {":118:1: no second person could confirm what the first has closed; let "
      "another person have a role that may CONFIRM, or leave second_person "
      "out"}},
    {"SecondPersonUnspecified",
     "second_person: ALERT_KIND_SAFETY",
     "second_person: ALERT_KIND_UNSPECIFIED",
     {":117:1: second_person is unspecified; write second_person: with one of "
      "ALERT_KIND_SAFETY, ALERT_KIND_REFERRAL, ALERT_KIND_STEPPED_CARE, "
      "ALERT_KIND_OUTREACH or ALERT_KIND_COACHING, once or more"}},
    {"SecondPersonTwice",
     "second_person: ALERT_KIND_SAFETY\n",
     "second_person: ALERT_KIND_SAFETY\nsecond_person:  ALERT_KIND_SAFETY\n",
     {":118:1: second_person \"ALERT_KIND_SAFETY\" is used a second time; "
      "choose another; the first is on line 117"}},
};
INSTANTIATE_TEST_SUITE_P(Slips, BadPeopleTest,
                         ::testing::ValuesIn(kPeopleSlips),
                         [](const auto& slip) { return slip.param.name; });

}  // namespace
}  // namespace turnstone
