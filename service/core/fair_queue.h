// Work that waits, of several sources that are served in turn.
#pragma once

#include <algorithm>
#include <cstddef>
#include <deque>
#include <map>
#include <string>
#include <utility>
#include <vector>

namespace turnstone {

// Each source's own work stays in order. Of what waits, one piece of each
// source is taken before the second of any: however much one has sent, whatever
// another sends is among the next as many pieces as there are sources.
// Thread-compatible.
template <typename Work>
class FairQueue {
 public:
  // False: `max` pieces wait, and of these `source` has its even share or more.
  // Whoever has less is taken even then, so that nobody can fill the queue for
  // the others.
  [[nodiscard]] bool Push(const std::string& source, Work work, size_t max) {
    if (size_ >= max && HasItsShare(source, max)) return false;
    std::deque<Work>& own = waiting_[source];
    if (own.empty()) turns_.push_back(source);
    own.push_back(std::move(work));
    ++size_;
    return true;
  }

  // Moves up to `max` pieces to the end of `to`.
  void Take(size_t max, std::vector<Work>& to) {
    for (size_t taken = 0; taken < max && size_ > 0; ++taken) {
      const auto next = waiting_.find(turns_.front());
      to.push_back(std::move(next->second.front()));
      next->second.pop_front();
      --size_;
      if (next->second.empty()) {
        waiting_.erase(next);
      } else {
        turns_.push_back(std::move(turns_.front()));
      }
      turns_.pop_front();
    }
  }

  [[nodiscard]] bool empty() const { return size_ == 0; }

 private:
  [[nodiscard]] bool HasItsShare(const std::string& source, size_t max) const {
    const auto own = waiting_.find(source);
    const bool waits = own != waiting_.end();
    const size_t sources = waiting_.size() + (waits ? 0 : 1);
    return (waits ? own->second.size() : 0) >=
           std::max<size_t>(1, max / sources);
  }

  std::map<std::string, std::deque<Work>> waiting_;  // none is empty
  std::deque<std::string> turns_;                    // each source once
  size_t size_ = 0;
};

}  // namespace turnstone
