#include "service/rpc/access.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>
#include <absl/strings/str_split.h>
#include <google/protobuf/util/message_differencer.h>

#include <map>
#include <string>
#include <vector>

#include "turnstone/v1/access.pb.h"
#include "turnstone/v1/service.pb.h"

namespace turnstone {
namespace {

using google::protobuf::Descriptor;
using google::protobuf::FieldDescriptor;
using google::protobuf::FileDescriptor;
using google::protobuf::Message;
using google::protobuf::MethodDescriptor;
using google::protobuf::util::MessageDifferencer;

const v1::Access& AccessOf(const MethodDescriptor& method) {
  return method.options().GetExtension(v1::access);
}

template <typename Use>
void ForEachMethod(const FileDescriptor& file, Use use) {
  for (int s = 0; s < file.service_count(); ++s) {
    for (int m = 0; m < file.service(s)->method_count(); ++m) {
      use(*file.service(s)->method(m));
    }
  }
}

using Table = std::map<const Descriptor*, v1::Access>;

const Table& TableInForce() {
  static const Table* const table = [] {
    auto* made = new Table();
    ForEachMethod(*v1::SubmitRequest::descriptor()->file(),
                  [made](const MethodDescriptor& method) {
                    (*made)[method.input_type()] = AccessOf(method);
                  });
    return made;
  }();
  return *table;
}

// The field at the end of `path`; null if there is none, or it is no text.
const FieldDescriptor* FindField(const Descriptor* message,
                                 const std::string& path) {
  const FieldDescriptor* field = nullptr;
  for (const std::string& name :
       std::vector<std::string>(absl::StrSplit(path, '.'))) {
    if (message == nullptr) return nullptr;
    field = message->FindFieldByName(name);
    if (field == nullptr || field->is_repeated()) return nullptr;
    message = field->message_type();
  }
  return field->type() == FieldDescriptor::TYPE_STRING ? field : nullptr;
}

// "" where `path` is empty or nothing is filled in.
std::string TextAt(const Message& request, const std::string& path) {
  if (path.empty()) return "";
  const Message* message = &request;
  const FieldDescriptor* field = nullptr;
  for (const std::string& name :
       std::vector<std::string>(absl::StrSplit(path, '.'))) {
    if (field != nullptr) {
      message = &message->GetReflection()->GetMessage(*message, field);
    }
    field = message->GetDescriptor()->FindFieldByName(name);
  }
  return message->GetReflection()->GetString(*message, field);
}

std::string WhatIsWrong(const MethodDescriptor& method,
                        std::map<const Descriptor*, v1::Access>& seen) {
  const v1::Access& access = AccessOf(method);
  if (access.kind().empty()) return "names no kind of caller";
  for (const std::string& path : {access.site(), access.alert()}) {
    if (path.empty()) continue;
    if (FindField(method.input_type(), path) == nullptr) {
      return absl::StrCat("names \"", path, "\", which its request has not");
    }
  }
  const auto [first, is_new] = seen.emplace(method.input_type(), access);
  if (is_new || MessageDifferencer::Equals(first->second, access)) return "";
  return "says otherwise than another method with the same request";
}

absl::Status NotYourSite(const Caller& caller, const std::string& site) {
  return absl::PermissionDeniedError(
      absl::StrCat("site: ", site, " is not one at which ", caller.by.name(),
                   " may do this as ", caller.by.role(),
                   "; these are: ", absl::StrJoin(caller.sites.sites(), ", ")));
}

}  // namespace

absl::Status CheckAccessTable(const FileDescriptor& file) {
  Table seen;
  std::vector<std::string> wrong;
  ForEachMethod(file, [&](const MethodDescriptor& method) {
    const std::string what = WhatIsWrong(method, seen);
    if (what.empty()) return;
    wrong.push_back(absl::StrCat(method.full_name(), ": its access ", what));
  });
  if (wrong.empty()) return absl::OkStatus();
  return absl::InternalError(absl::StrJoin(wrong, "; "));
}

absl::StatusOr<Caller> PassGate(Core& core, const Presented& who,
                                const Message& request) {
  const auto access = TableInForce().find(request.GetDescriptor());
  // It has no kind of caller, so nobody is let in.
  static const v1::Access* const kForNobody = new v1::Access();
  const v1::Access& asked =
      access == TableInForce().end() ? *kForNobody : access->second;
  absl::StatusOr<Caller> caller = Admit(who, asked, core.setup());
  if (!caller.ok()) return caller;
  const std::string site = TextAt(request, asked.site());
  // Of a site that there is not, the Core says so.
  if (core.setup().FindSite(site) != nullptr && !caller->sites.Covers(site)) {
    return NotYourSite(*caller, site);
  }
  const std::string alert = TextAt(request, asked.alert());
  if (!alert.empty()) {
    absl::Status status = core.GetAlert(alert, caller->sites).status();
    if (!status.ok()) return status;
  }
  return caller;
}

}  // namespace turnstone
