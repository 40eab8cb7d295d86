// A system that posts facts, as such systems do: it waits for an answer, loses
// some, sends again what it has no answer for, sends what it has sent before,
// and now and then something wrong.
#pragma once

#include <absl/time/time.h>

#include <list>
#include <string>
#include <utility>
#include <vector>

#include "service/store/store.h"
#include "tests/faults/event_watch.h"
#include "tests/faults/random.h"
#include "tests/faults/swarm.h"

namespace turnstone::faults {

class Intake {
 public:
  Intake(std::string source, std::vector<ParticipantKey> participants,
         const Swarm& swarm, Random& random)
      : source_(std::move(source)),
        participants_(std::move(participants)),
        swarm_(swarm),
        random_(random) {}

  struct Request {
    v1::Event event;
    bool wrong;
    absl::Time next_try;
  };
  // Has something new to post.
  void Invent(absl::Time now);
  // What is to be sent now. Stays where it is until Answered.
  [[nodiscard]] std::vector<Request*> Due(absl::Time now);
  // Without an answer it is sent again later.
  void Answered(Request& request,
                const absl::StatusOr<v1::SubmitResponse>& answer,
                absl::Time now, EventWatch& watch);
  [[nodiscard]] size_t waiting() const { return requests_.size(); }
  // Sends everything without an answer again at once.
  void Hurry(absl::Time now);

 private:
  void SendAgain(const Request& request, absl::Time now);

  std::string source_;
  std::vector<ParticipantKey> participants_;
  const Swarm& swarm_;
  Random& random_;
  int invented_ = 0;
  std::list<Request> requests_;
  std::vector<v1::Event> accepted_;  // no corrections
};

}  // namespace turnstone::faults
