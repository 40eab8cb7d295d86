#include "tests/cli/fake_service.h"

#include <absl/strings/str_cat.h>

namespace turnstone::cli {
namespace {

std::string Metadata(const grpc::ServerContext& context, const char* key) {
  const auto found = context.client_metadata().find(key);
  if (found == context.client_metadata().end()) return "";
  return {found->second.data(), found->second.size()};
}

}  // namespace

FakeService::FakeService() {
  grpc::ServerBuilder builder;
  builder.AddListeningPort("127.0.0.1:0", grpc::InsecureServerCredentials(),
                           &port_);
  builder.RegisterService(static_cast<v1::EventService::Service*>(this));
  builder.RegisterService(static_cast<v1::AlertService::Service*>(this));
  builder.RegisterService(static_cast<v1::ParticipantService::Service*>(this));
  builder.RegisterService(static_cast<v1::DutyService::Service*>(this));
  builder.RegisterService(static_cast<v1::ClockService::Service*>(this));
  server_ = builder.BuildAndStart();
}

FakeService::~FakeService() {
  server_->Shutdown(std::chrono::system_clock::now());
  server_->Wait();
}

std::string FakeService::address() const {
  return absl::StrCat("127.0.0.1:", port_);
}

void FakeService::Note(const grpc::ServerContext& context) {
  caller = absl::StrCat(Metadata(context, "turnstone-name"), ",",
                        Metadata(context, "turnstone-role"));
  had_deadline =
      context.deadline() != std::chrono::system_clock::time_point::max();
}

grpc::Status FakeService::SubmitStream(grpc::ServerContext* context,
                                       SubmitCall* call) {
  Note(*context);
  return submit(*call);
}

grpc::Status FakeService::ListAlerts(grpc::ServerContext* context,
                                     const v1::ListAlertsRequest* request,
                                     v1::ListAlertsResponse* response) {
  Note(*context);
  return list(*request, *response);
}

grpc::Status FakeService::GetAlert(grpc::ServerContext* context,
                                   const v1::GetAlertRequest* request,
                                   v1::Alert* response) {
  Note(*context);
  return get(*request, *response);
}

grpc::Status FakeService::WorkAlert(grpc::ServerContext* context,
                                    const v1::WorkAlertRequest* request,
                                    v1::Alert* response) {
  Note(*context);
  return work(*request, *response);
}

grpc::Status FakeService::FollowAlerts(grpc::ServerContext* context,
                                       const v1::FollowAlertsRequest* request,
                                       grpc::ServerWriter<v1::Alert>* writer) {
  Note(*context);
  return follow(*context, *request, *writer);
}

grpc::Status FakeService::GetParticipant(
    grpc::ServerContext* context, const v1::GetParticipantRequest* request,
    v1::ParticipantView* response) {
  Note(*context);
  return participant(*request, *response);
}

grpc::Status FakeService::ExplainAlert(grpc::ServerContext* context,
                                       const v1::ExplainAlertRequest* request,
                                       v1::AlertExplanation* response) {
  Note(*context);
  return why(*request, *response);
}

grpc::Status FakeService::ExplainRule(grpc::ServerContext* context,
                                      const v1::ExplainRuleRequest* request,
                                      v1::RuleExplanation* response) {
  Note(*context);
  return why_not(*request, *response);
}

grpc::Status FakeService::GetClock(grpc::ServerContext* context,
                                   const v1::GetClockRequest* /*request*/,
                                   v1::Clock* response) {
  Note(*context);
  *response = now;
  return grpc::Status::OK;
}

grpc::Status FakeService::AdvanceClock(grpc::ServerContext* context,
                                       const v1::AdvanceClockRequest* request,
                                       v1::Clock* response) {
  Note(*context);
  return advance(*request, *response);
}

grpc::Status FakeService::GetOnCall(grpc::ServerContext* context,
                                    const v1::GetOnCallRequest* request,
                                    v1::OnCall* response) {
  Note(*context);
  return on_call(*request, *response);
}

grpc::Status FakeService::GetHandover(grpc::ServerContext* context,
                                      const v1::GetHandoverRequest* request,
                                      v1::Handover* response) {
  Note(*context);
  return handover(*request, *response);
}

grpc::Status FakeService::OfferHandover(grpc::ServerContext* context,
                                        const v1::OfferHandoverRequest* request,
                                        v1::Handover* response) {
  Note(*context);
  return offer(*request, *response);
}

grpc::Status FakeService::AnswerHandover(
    grpc::ServerContext* context, const v1::AnswerHandoverRequest* request,
    v1::Handover* response) {
  Note(*context);
  return answer(*request, *response);
}

grpc::Status FakeService::ListDue(grpc::ServerContext* context,
                                  const v1::ListDueRequest* request,
                                  v1::DueList* response) {
  Note(*context);
  return due(*request, *response);
}

grpc::Status FakeService::ListOutbox(grpc::ServerContext* context,
                                     const v1::ListOutboxRequest* request,
                                     v1::Outbox* response) {
  Note(*context);
  return outbox(*request, *response);
}

grpc::Status FakeService::GetBurden(grpc::ServerContext* context,
                                    const v1::GetBurdenRequest* request,
                                    v1::Burden* response) {
  Note(*context);
  return burden(*request, *response);
}

}  // namespace turnstone::cli
