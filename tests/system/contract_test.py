"""The contract as an intake system not ours sees it: another language, stubs
made from the .proto files alone."""

import threading
import unittest

import grpc
from google.protobuf import duration_pb2
from turnstone.v1 import alert_pb2, explain_pb2, service_pb2

from harness import PHQ9, SystemTest, phq9


class ContractTest(SystemTest):
    def setUp(self):
        super().setUp()
        self.server = self.serve()
        self.intake = self.server.client()
        self.person = self.server.client("r.sorrel", "clinician")
        self.addCleanup(self.intake.close)
        self.addCleanup(self.person.close)

    def test_screening_raises_an_alert_that_a_person_closes(self):
        answer = self.intake.submit(phq9("e1", [0] * 8 + [2]))
        self.assertEqual(answer.sequence, 1)
        self.assertEqual(list(answer.alert_id), ["A-1"])
        listed = self.person.list(
            priority=[alert_pb2.PRIORITY_STAT]).alert
        self.assertEqual(listed[0].rule.rule, "self-harm-positive")
        self.assertTrue(listed[0].latched)
        received = self.person.work("A-1", receive=service_pb2.Receive())
        self.assertEqual(received.status, alert_pb2.ALERT_STATUS_RECEIVED)
        self.assertEqual(received.history[-1].by.identity, "as stated")
        self.assertTrue(received.escalation.HasField("next_at"))
        # The shipped site asks for a second person where safety is in question.
        waits = self.person.work("A-1", close=service_pb2.Close(
            outcome="safety-plan-made", note="done"))
        self.assertEqual(waits.status, alert_pb2.ALERT_STATUS_IN_PROGRESS)
        lead = self.server.client("t.linnet", "on-call-lead")
        self.addCleanup(lead.close)
        closed = lead.work("A-1", confirm=service_pb2.Confirm())
        self.assertEqual(closed.status, alert_pb2.ALERT_STATUS_COMPLETED)
        self.assertEqual(closed.closing.confirmed_by.name, "t.linnet")
        on_call = lead.duties.GetOnCall(service_pb2.GetOnCallRequest(),
                                        **lead.how)
        self.assertEqual(len(on_call.duty[0].person), 1)

    def test_an_alert_is_explained_by_every_rule(self):
        self.intake.submit(phq9("e1", [0] * 8 + [2]))
        why = self.person.alerts.ExplainAlert(
            explain_pb2.ExplainAlertRequest(alert_id="A-1"),
            **self.person.how)
        said = {o.rule: o for o in why.outcome}
        own = said["self-harm-positive"]
        self.assertEqual(own.outcome, explain_pb2.OUTCOME_RAISED)
        self.assertEqual(own.trace, why.alert.occurrence[0].trace)
        self.assertEqual(said["score-above-range"].outcome,
                         explain_pb2.OUTCOME_DID_NOT_RAISE)
        silent = self.person.participants.ExplainRule(
            explain_pb2.ExplainRuleRequest(participant="p1",
                                           rule="self-harm-unanswered"),
            **self.person.how)
        self.assertEqual(silent.outcome.outcome,
                         explain_pb2.OUTCOME_DID_NOT_RAISE)
        self.assertEqual(len(silent.change), 1)

    def test_answer_zero_and_no_answer_are_told_apart_on_the_wire(self):
        self.intake.submit(phq9("zero", [0] * 9, participant="p-zero"))
        self.intake.submit(phq9("none", [0] * 8, participant="p-none"))
        rules = {(a.participant, a.rule.rule)
                 for a in self.person.list().alert}
        self.assertEqual(rules, {("p-none", "self-harm-unanswered")})

    def test_stream_answers_every_event_in_order_and_goes_on_after_a_refusal(
            self):
        events = [phq9(f"e{i}", [1] * 9, participant=f"p{i}")
                  for i in range(300)]
        events[7].screening_result.instrument = "no-such"
        events[9].event_id = "e8"  # taken by the one before
        requests = (service_pb2.SubmitRequest(event=event)
                    for event in events)
        replies = list(self.intake.events.SubmitStream(
            requests, **self.intake.how))
        self.assertEqual(len(replies), 300)
        self.assertEqual([r.event_id for r in replies],
                         [e.event_id for e in events])
        refused = {i: r.refused.code for i, r in enumerate(replies)
                   if r.WhichOneof("result") == "refused"}
        self.assertEqual(refused, {
            7: grpc.StatusCode.INVALID_ARGUMENT.value[0],
            9: grpc.StatusCode.ALREADY_EXISTS.value[0]})

    def test_following_misses_nothing_and_goes_on_from_a_position(self):
        for i in range(5):
            self.intake.submit(phq9(f"e{i}", [0] * 8 + [1],
                                    participant=f"p{i}"))
        stream = self.person.alerts.FollowAlerts(
            service_pb2.FollowAlertsRequest(after_position=0),
            **self.person.how)
        seen = [next(stream) for _ in range(5)]
        self.assertEqual([a.alert_id for a in seen],
                         ["A-1", "A-2", "A-3", "A-4", "A-5"])
        # Live: what is raised while following arrives by itself.
        late = threading.Thread(
            target=self.intake.submit,
            args=(phq9("late", [0] * 8 + [1], participant="late"),))
        late.start()
        self.assertEqual(next(stream).participant, "late")
        late.join()
        stream.cancel()
        again = self.person.alerts.FollowAlerts(
            service_pb2.FollowAlertsRequest(after_position=seen[2].position),
            **self.person.how)
        self.assertEqual([next(again).alert_id for _ in range(3)],
                         ["A-4", "A-5", "A-6"])
        again.cancel()

    def test_pages_hold_every_alert_once(self):
        for i in range(25):
            self.intake.submit(phq9(f"e{i}", [0] * 8 + [1],
                                    participant=f"p{i}"))
        ids, token = [], ""
        while True:
            page = self.person.list(page_size=10, page_token=token)
            self.assertEqual(page.total, 25)
            ids += [a.alert_id for a in page.alert]
            token = page.next_page_token
            if not token:
                break
        self.assertEqual(len(ids), 25)
        self.assertEqual(len(set(ids)), 25)

    def test_who_calls_must_be_said(self):
        nobody = dict(self.intake.how, metadata=())
        self.assertRefused(
            grpc.StatusCode.UNAUTHENTICATED, "say who you are",
            self.intake.events.Submit,
            service_pb2.SubmitRequest(event=phq9("e", [0] * 9)), **nobody)
        odd = dict(self.intake.how, metadata=(("turnstone-name", "x"),
                                              ("turnstone-role", "King!")))
        self.assertRefused(
            grpc.StatusCode.UNAUTHENTICATED, "clinician",
            self.intake.alerts.GetAlert,
            service_pb2.GetAlertRequest(alert_id="A-1"), **odd)
        with self.assertRaises(grpc.RpcError) as caught:
            list(self.intake.events.SubmitStream(iter([]), **odd))
        self.assertEqual(caught.exception.code(),
                         grpc.StatusCode.UNAUTHENTICATED)

    def test_oversized_message_is_refused_and_the_service_goes_on(self):
        event = phq9("big", [0] * 9)
        event.screening_result.instrument = "x" * 300_000
        self.assertRefused(grpc.StatusCode.RESOURCE_EXHAUSTED, "",
                           self.intake.submit, event)
        self.assertEqual(self.intake.submit(phq9("e", [0] * 9)).sequence, 1)

    def test_clock_moves_only_forward_and_does_what_falls_due(self):
        planned = phq9("plan", [])
        planned.ClearField("screening_result")
        planned.visit_planned.visit = "visit-1"
        planned.visit_planned.planned_start.CopyFrom(planned.effective_time)
        self.intake.submit(planned)
        advance = self.person.clock.AdvanceClock
        self.assertRefused(
            grpc.StatusCode.INVALID_ARGUMENT, "more than 0", advance,
            service_pb2.AdvanceClockRequest(
                by=duration_pb2.Duration(seconds=-5)), **self.person.how)
        advance(service_pb2.AdvanceClockRequest(
            by=duration_pb2.Duration(seconds=26 * 3600)), **self.person.how)
        self.assertEqual(len(self.person.list().alert), 0)
        advance(service_pb2.AdvanceClockRequest(
            by=duration_pb2.Duration(seconds=26 * 3600)), **self.person.how)
        alerts = self.person.list().alert
        self.assertEqual([a.rule.rule for a in alerts],
                         ["visit-without-outcome"])

    def test_participant_page(self):
        self.intake.submit(phq9("e1", [2, 2, 2, 2, 1, 1, 2, 0, 0]))
        view = self.person.participants.GetParticipant(
            service_pb2.GetParticipantRequest(participant="p1"),
            **self.person.how)
        self.assertEqual(view.timeline[0].text, "PHQ-9 12 (moderate)")
        self.assertIn("not an emergency service", view.caution)

    def test_answers_by_code_not_by_position(self):
        event = phq9("e1", [0] * 9)
        shuffled = list(event.screening_result.answers)[::-1]
        shuffled[0].answer = "LA6571-9"  # item 9, now first
        self.assertEqual(shuffled[0].question, PHQ9[8])
        del event.screening_result.answers[:]
        event.screening_result.answers.extend(shuffled)
        self.intake.submit(event)
        self.assertEqual(self.person.list().alert[0].rule.rule,
                         "self-harm-positive")


if __name__ == "__main__":
    unittest.main()
