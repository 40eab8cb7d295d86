; The first ten rules of rules/packs/home-visits.textproto, at the numbers of
; the fictional site in deploy/config, for a rule engine of general use.
;
; One participant at a time, events in order. (current) names what rules are
; asked about: an event that has just come, or a deadline that has passed.
; A missing answer is -1 for the self-harm item; elsewhere it makes a total a
; range from low to high. Where an answer is unknown, the rule raises.

(deftemplate current (slot id))
(deftemplate deadline (slot id))
(deftemplate form (slot id) (slot at) (slot number) (slot low) (slot high)
  (slot self-harm) (slot willing))
(deftemplate plan (slot id) (slot at) (slot visit))
(deftemplate outcome (slot id) (slot at) (slot visit) (slot attended))
(deftemplate report (slot id) (slot confidence))
(deftemplate enrolment (slot at))
(deftemplate discharge (slot at))
(deftemplate raised (slot rule) (slot id))

(defrule self-harm-positive
  (current (id ?i))
  (form (id ?i) (self-harm ?points&:(>= ?points 1)))
  =>
  (assert (raised (rule self-harm-positive) (id ?i))))

(defrule self-harm-unanswered
  (current (id ?i))
  (form (id ?i) (self-harm -1))
  =>
  (assert (raised (rule self-harm-unanswered) (id ?i))))

(defrule score-above-range
  (current (id ?i))
  (form (id ?i) (high ?high&:(>= ?high 20)))
  =>
  (assert (raised (rule score-above-range) (id ?i))))

; Certain at once: in range, and wants it.
(defrule score-in-range-and-willing
  (current (id ?i))
  (form (id ?i) (low ?low&:(>= ?low 10)) (high ?high&:(<= ?high 19))
    (willing 1))
  (not (and (enrolment) (not (discharge))))
  =>
  (assert (raised (rule score-in-range-and-willing) (id ?i))))

; Possible, but the wish or an answer is missing, and nobody has enrolled the
; participant until the deadline.
(defrule score-in-range-and-perhaps-willing
  (deadline (id ?i))
  (form (id ?i) (low ?low&:(<= ?low 19)) (high ?high&:(>= ?high 10))
    (willing ?willing&~0))
  (test (not (and (>= ?low 10) (<= ?high 19) (= ?willing 1))))
  (open ?i)
  (not (and (enrolment) (not (discharge))))
  =>
  (assert (raised (rule score-in-range-and-willing) (id ?i))))

; Whether the participant was not enrolled when the form came.
(defrule open-when-it-came
  (current (id ?i))
  (form (id ?i))
  (not (and (enrolment) (not (discharge))))
  =>
  (assert (open ?i)))

; The last form up to enrolment.
(defrule reliable-deterioration-since-enrolment
  (current (id ?i))
  (form (id ?i) (at ?at) (high ?high))
  (enrolment (at ?enrolled))
  (form (at ?then&:(and (< ?then ?at) (<= ?then ?enrolled))) (low ?low))
  (not (form (at ?later&:(and (> ?later ?then) (< ?later ?at)
                              (<= ?later ?enrolled)))))
  (test (>= (- ?high ?low) 6))
  =>
  (assert (raised (rule reliable-deterioration) (id ?i))))

; Else the first.
(defrule reliable-deterioration-since-first
  (current (id ?i))
  (form (id ?i) (at ?at) (high ?high))
  (form (number 1) (at ?then&:(< ?then ?at)) (low ?low))
  (not (enrolment (at ?enrolled&:(<= ?then ?enrolled))))
  (test (>= (- ?high ?low) 6))
  =>
  (assert (raised (rule reliable-deterioration) (id ?i))))

(defrule rising-scores
  (current (id ?i))
  (form (id ?i) (number ?n) (high ?fourth))
  (form (number ?third&:(= ?third (- ?n 1))) (low ?low3) (high ?high3))
  (test (> ?fourth ?low3))
  (form (number ?second&:(= ?second (- ?n 2))) (low ?low2) (high ?high2))
  (test (> ?high3 ?low2))
  (form (number ?first&:(= ?first (- ?n 3))) (low ?low1))
  (test (> ?high2 ?low1))
  =>
  (assert (raised (rule rising-scores) (id ?i))))

(defrule missed-visits
  (current (id ?i))
  (outcome (id ?i) (at ?at) (visit ?visit) (attended 0))
  (outcome (at ?then&:(<= ?then ?at)) (visit ?other&~?visit) (attended 0))
  (not (outcome (attended 1)
    (at ?between&:(and (> ?between ?then) (<= ?between ?at)))))
  =>
  (assert (raised (rule missed-visits) (id ?i))))

; 365 days, in seconds.
(defrule missed-after-self-harm
  (current (id ?i))
  (outcome (id ?i) (at ?at) (attended 0))
  (form (self-harm ~0) (at ?then&:(>= ?then (- ?at 31536000))))
  =>
  (assert (raised (rule missed-after-self-harm) (id ?i))))

(defrule visit-without-outcome
  (deadline (id ?i))
  (plan (id ?i) (at ?at) (visit ?visit))
  (not (outcome (visit ?visit) (at ?then&:(>= ?then ?at))))
  (not (discharge))
  =>
  (assert (raised (rule visit-without-outcome) (id ?i))))

(defrule low-practice-confidence
  (current (id ?i))
  (report (id ?i) (confidence ?percent&:(< ?percent 80)))
  =>
  (assert (raised (rule low-practice-confidence) (id ?i))))
