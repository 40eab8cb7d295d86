// One sending: what goes to one person by one channel.
#pragma once

#include <absl/time/time.h>

#include <string>
#include <vector>

#include "service/store/store.h"
#include "turnstone/v1/delivery.pb.h"
#include "turnstone/v1/duty.pb.h"

namespace turnstone {

struct Envelope {
  // The same for every attempt: the message's own, or for a daily message
  // "daily/2027-01-05/r.sorrel/mail".
  std::string key;
  std::string site;
  // The site's name for people, and its zone.
  std::string site_name;
  std::string time_zone;
  std::string person;
  v1::Channel channel;
  // Empty where the channel needs none.
  std::string address;
  // One, or all of a daily message. Never empty.
  std::vector<v1::OwedMessage> messages;
  // The service's time.
  absl::Time now;
};

}  // namespace turnstone
