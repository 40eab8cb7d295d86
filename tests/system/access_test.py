"""Who may call what: every method, by every kind of caller, at their own site
and at a foreign one. The table below was written from the requirements, not
read off the contract: service.proto must say the same."""

import unittest

import grpc
from google.protobuf import timestamp_pb2
from grpc import StatusCode
from turnstone.v1 import alert_pb2, service_pb2

import two_sites
from two_sites import SITES, channel, name_of
from harness import DEADLINE, SystemTest, phq9

# Intake systems submit; Clinicians and on-call Leads work alerts; Programme
# leads have the rules and replay; Operators keep the service; Auditors read.
WHO = {"I": "intake", "C": "clinician", "L": "lead", "P": "programme",
       "O": "operator", "A": "auditor"}
TABLE = {
    "EventService": {"Submit": "ICL", "SubmitStream": "ICL"},
    "AlertService": {"ListAlerts": "CLA", "GetAlert": "CLA",
                     "ExplainAlert": "CLA", "WorkAlert": "CL",
                     "FollowAlerts": "CLA"},
    "AuditService": {"ListDisclosures": "CLA"},
    "ParticipantService": {"GetParticipant": "CLA", "ExplainRule": "CLA"},
    "RuleService": {"ListVersions": "CLPOA", "GetVersion": "CLPOA",
                    "ActivateVersion": "P", "ConfirmVersion": "P",
                    "ShadowVersion": "P", "ListShadow": "PA",
                    "ReadEvents": "P"},
    "DutyService": {"GetOnCall": "CLPOA", "GetHandover": "CLA",
                    "OfferHandover": "L", "AnswerHandover": "L",
                    "ListDue": "CLA", "ListOutbox": "CLOA",
                    "GetBurden": "CLPA"},
    # A backup holds every site: see test_backup_needs_every_site.
    "OperationsService": {"BackUp": "", "EraseParticipant": "O"},
    "ClockService": {"GetClock": "ICLPOA", "AdvanceClock": "ICLPOA"},
}
NOT_LET_IN = (StatusCode.PERMISSION_DENIED, StatusCode.UNAUTHENTICATED,
              StatusCode.UNIMPLEMENTED, StatusCode.UNAVAILABLE,
              StatusCode.UNKNOWN, StatusCode.DEADLINE_EXCEEDED)


def methods():
    for service in service_pb2.DESCRIPTOR.services_by_name.values():
        for method in service.methods:
            yield service.name, method.name, method


def made_request(method, site, alert):
    """About that site, or that alert of it, where the request can say so."""
    request = method.input_type._concrete_class()
    fields = method.input_type.fields_by_name
    if "site" in fields:
        request.site = site
    if "alert_id" in fields:
        request.alert_id = alert
    if "event" in fields:
        request.event.site = site
    if "after_position" in fields:
        request.after_position = 0
    if method.name == "WorkAlert":
        request.note.note = "Looked at."
    return request


def code_of(connection, method, request):
    """How a call of any shape ends, or OK once it has answered."""
    name = f"/{method.containing_service.full_name}/{method.name}"
    read = method.output_type._concrete_class.FromString

    def write(message):
        return message.SerializeToString()
    try:
        if method.name == "SubmitStream":
            replies = connection.stream_stream(name, write, read)(
                iter([request]), timeout=DEADLINE)
            for reply in replies:
                wanted = reply.refused.code
                return next(c for c in StatusCode if c.value[0] == wanted)
        elif method.name in ("FollowAlerts", "ReadEvents", "BackUp"):
            replies = connection.unary_stream(name, write, read)(
                request, timeout=DEADLINE)
            for _ in replies:
                break
            replies.cancel()
        else:
            connection.unary_unary(name, write, read)(request,
                                                      timeout=DEADLINE)
        return StatusCode.OK
    except grpc.RpcError as error:
        return error.code()


class AccessTest(SystemTest):
    def setUp(self):
        super().setUp()
        self.keys = self.folder + "/keys"
        two_sites.make_certificates(self.keys, two_sites.every_caller())
        self.server = self.serve(config=two_sites.make_config(self.folder),
                                 way_in=two_sites.way_in(self.keys))
        self.channels = {}
        self.addCleanup(
            lambda: [one.close() for one in self.channels.values()])
        self.alerts = {site: self.raised_at(site) for site in SITES}

    def caller(self, name):
        if name not in self.channels:
            self.channels[name] = channel(self.server.port, self.keys, name)
        return self.channels[name]

    def raised_at(self, site):
        """The alert of a positive self-harm item."""
        event = phq9("e-" + site, [1] * 9, participant="p-" + site)
        event.site = site
        submit = self.caller(name_of("intake", site)).unary_unary(
            "/turnstone.v1.EventService/Submit",
            service_pb2.SubmitRequest.SerializeToString,
            service_pb2.SubmitResponse.FromString)
        return submit(service_pb2.SubmitRequest(event=event),
                      timeout=DEADLINE).alert_id[0]

    def ask(self, name, method, request, answer):
        call = self.caller(name).unary_unary(
            "/turnstone.v1." + method, type(request).SerializeToString,
            answer.FromString)
        return call(request, timeout=DEADLINE)

    def test_every_method_has_an_entry(self):
        there = {(service, name) for service, name, _ in methods()}
        self.assertEqual(there, {(service, name) for service in TABLE
                                 for name in TABLE[service]})

    def test_every_method_by_everybody(self):
        own, foreign = SITES
        for service, name, method in methods():
            fields = method.input_type.fields_by_name
            bound = "site" in fields or "event" in fields
            for letter, kind in WHO.items():
                caller = self.caller(name_of(kind, own))
                may = letter in TABLE[service][name]
                with self.subTest(method=name, caller=kind):
                    code = code_of(caller, method, made_request(
                        method, own, self.alerts[own]))
                    if may:
                        self.assertNotIn(code, NOT_LET_IN)
                    else:
                        self.assertEqual(code, StatusCode.PERMISSION_DENIED)
                if not bound and "alert_id" not in fields:
                    continue
                with self.subTest(method=name, caller=kind, site="foreign"):
                    code = code_of(caller, method, made_request(
                        method, foreign, self.alerts[foreign]))
                    hidden = may and not bound
                    self.assertEqual(code, StatusCode.NOT_FOUND if hidden
                                     else StatusCode.PERMISSION_DENIED)

    def test_lists_of_every_site_are_of_ones_own(self):
        until = timestamp_pb2.Timestamp()
        until.FromJsonString("2027-02-01T00:00:00Z")
        for site in SITES:
            name = name_of("clinician", site)
            listed = self.ask(name, "AlertService/ListAlerts",
                              service_pb2.ListAlertsRequest(),
                              service_pb2.ListAlertsResponse)
            self.assertEqual({one.site for one in listed.alert}, {site})
            self.assertEqual(listed.total, len(listed.alert))
            due = self.ask(name, "DutyService/ListDue",
                           service_pb2.ListDueRequest(until=until),
                           service_pb2.DueList)
            self.assertEqual({one.site for one in due.item}, {site})
            outbox = self.ask(name, "DutyService/ListOutbox",
                              service_pb2.ListOutboxRequest(status=[1, 2, 3]),
                              service_pb2.Outbox)
            self.assertEqual({one.site for one in outbox.channel}, {site})
            follow = self.caller(name).unary_stream(
                "/turnstone.v1.AlertService/FollowAlerts",
                service_pb2.FollowAlertsRequest.SerializeToString,
                alert_pb2.Alert.FromString)
            stream = follow(service_pb2.FollowAlertsRequest(after_position=0),
                            timeout=DEADLINE)
            self.assertEqual(next(stream).site, site)
            stream.cancel()

    def test_one_of_two_roles_says_which(self):
        ask = self.caller("both").unary_unary(
            "/turnstone.v1.AlertService/ListAlerts",
            service_pb2.ListAlertsRequest.SerializeToString,
            service_pb2.ListAlertsResponse.FromString)
        self.assertRefused(StatusCode.UNAUTHENTICATED,
                           "clinician, supervisor", ask,
                           service_pb2.ListAlertsRequest(), timeout=DEADLINE)
        for role, site in (("clinician", SITES[0]), ("supervisor", SITES[1])):
            listed = ask(service_pb2.ListAlertsRequest(), timeout=DEADLINE,
                         metadata=(("turnstone-role", role),))
            self.assertEqual({one.site for one in listed.alert}, {site})
        self.assertRefused(
            StatusCode.PERMISSION_DENIED, "not on-call-lead; call in", ask,
            service_pb2.ListAlertsRequest(), timeout=DEADLINE,
            metadata=(("turnstone-role", "on-call-lead"),))

    def test_backup_needs_every_site(self):
        method = next(m for _, name, m in methods() if name == "BackUp")
        request = method.input_type._concrete_class()
        # This server has no folder for one; whoever may is told so.
        self.assertEqual(code_of(self.caller("watch"), method, request),
                         StatusCode.FAILED_PRECONDITION)
        for kind in ("operator", "watch"):
            self.assertEqual(
                code_of(self.caller(name_of(kind, SITES[0])), method, request),
                StatusCode.PERMISSION_DENIED)

    def test_what_one_says_beside_a_certificate_does_not_count(self):
        ask = self.caller(name_of("intake", SITES[0])).unary_unary(
            "/turnstone.v1.AlertService/ListAlerts",
            service_pb2.ListAlertsRequest.SerializeToString,
            service_pb2.ListAlertsResponse.FromString)
        self.assertRefused(
            StatusCode.PERMISSION_DENIED, "", ask,
            service_pb2.ListAlertsRequest(), timeout=DEADLINE,
            metadata=(("turnstone-name", "r.sorrel"),
                      ("turnstone-role", "clinician")))


if __name__ == "__main__":
    unittest.main()
