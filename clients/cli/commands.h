// The commands. Each adds itself to `app`; once the arguments are parsed,
// `chosen` is what to run. Both must outlive the parsing.
#pragma once

#include <CLI/CLI.hpp>

#include "clients/cli/command.h"

namespace turnstone::cli {

// submit FILE|-: send events.
void AddSubmit(CLI::App& app, Command& chosen);
// alerts: list them.
void AddAlerts(CLI::App& app, Command& chosen);
// alert ID: one alert's story.
void AddAlert(CLI::App& app, Command& chosen);
// receive ID, start ID, hold ID, note ID, close ID, confirm ID, cancel ID and
// reopen ID: a person does something about an alert.
void AddWork(CLI::App& app, Command& chosen);
// handover, handover give, take and decline: one's duty and open alerts.
void AddHandover(CLI::App& app, Command& chosen);
// oncall: who is on duty.
void AddOnCall(CLI::App& app, Command& chosen);
// due: what falls due.
void AddDue(CLI::App& app, Command& chosen);
// outbox: messages owed to people.
void AddOutbox(CLI::App& app, Command& chosen);
// participant ID: one participant's course.
void AddParticipant(CLI::App& app, Command& chosen);
// follow: alerts as they change, as lines or, on a terminal, as a board.
void AddFollow(CLI::App& app, Command& chosen);
// rules check PATH...: look over a configuration, without the service.
void AddRules(CLI::App& app, Command& chosen);
// rules describe PATH...: the same rules in plain words.
void AddRulesDescribe(CLI::App& rules, Command& chosen);
// rules diff A B: what differs between two versions, in plain words.
void AddRulesDiff(CLI::App& rules, Command& chosen);
// rules help [ID]: what a finding of rules check means.
void AddRulesHelp(CLI::App& rules, Command& chosen);
// rules prove PATH...: whether what must hold of them does, in every case.
void AddRulesProve(CLI::App& rules, Command& chosen);
// rules versions, activate, confirm and shadow: versions in the service.
void AddRulesVersions(CLI::App& rules, Command& chosen);
// rules replay: what other rules would have raised over recorded events.
void AddRulesReplay(CLI::App& rules, Command& chosen);
// measure FILE|-: scores, change and trend, without the service.
void AddMeasure(CLI::App& app, Command& chosen);
// burden: what alerts asked of people.
void AddBurden(CLI::App& app, Command& chosen);
// audit verify DATA: whether the record of who did what is as it was written.
void AddAudit(CLI::App& app, Command& chosen);
// backup: have the service make a backup.
void AddBackup(CLI::App& app, Command& chosen);
// erase ID: take a participant out of the record.
void AddErase(CLI::App& app, Command& chosen);
// clock and clock advance: the service's time.
void AddClock(CLI::App& app, Command& chosen);

}  // namespace turnstone::cli
