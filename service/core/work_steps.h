// The pieces of work on an alert, one function each. Whether the caller's role
// may do it was asked before. Errors as Work.
#pragma once

#include <absl/status/statusor.h>

#include <string>

#include "service/core/work.h"

namespace turnstone {

// The caller has it from now on, with that status; `text` goes on record. The
// climb until it is closed begins, unless they had it already.
[[nodiscard]] WorkDone TakeOn(v1::AlertStatus status, const std::string& text,
                              const Desk& desk, v1::Alert& alert);

// received or in-progress, as `verb` says: "received".
[[nodiscard]] absl::StatusOr<WorkDone> TakeIt(v1::AlertStatus status,
                                              const std::string& verb,
                                              const std::string& note,
                                              const Desk& desk,
                                              v1::Alert& alert);
[[nodiscard]] absl::StatusOr<WorkDone> HoldIt(const v1::PutOnHold& hold,
                                              const Desk& desk,
                                              v1::Alert& alert);
[[nodiscard]] absl::StatusOr<WorkDone> NoteIt(const v1::AddNote& note,
                                              const Desk& desk,
                                              v1::Alert& alert);
[[nodiscard]] absl::StatusOr<WorkDone> CloseIt(const v1::Close& close,
                                               const Desk& desk,
                                               v1::Alert& alert);
[[nodiscard]] absl::StatusOr<WorkDone> ConfirmIt(const v1::Confirm& confirm,
                                                 const Desk& desk,
                                                 v1::Alert& alert);
[[nodiscard]] absl::StatusOr<WorkDone> CancelIt(const v1::Cancel& cancel,
                                                const Desk& desk,
                                                v1::Alert& alert);

}  // namespace turnstone
