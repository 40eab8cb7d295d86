#include "service/core/space_watch.h"

namespace turnstone {

void SpaceWatch::Look() {
  if (space_ == nullptr) return;
  if (room_ == Room::kEnough) {
    if (space_->Hold().ok() && space_->Free() >= kLowMark) return;
    space_->Release();
    room_ = Room::kShort;
    return;
  }
  if (space_->Free() < kHighMark + space_->reserve_bytes()) return;
  if (!space_->Hold().ok()) return;
  room_ = Room::kEnough;
  refused_ = false;
}

void SpaceWatch::Recorded() {
  if (room_ == Room::kNone) room_ = Room::kShort;
}

void SpaceWatch::Refused() {
  if (space_ == nullptr) return;
  refused_ = true;
  if (room_ == Room::kEnough) {
    space_->Release();
    room_ = Room::kShort;
  } else {
    room_ = Room::kNone;
  }
}

}  // namespace turnstone
