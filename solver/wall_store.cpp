// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/wall_store.hpp"

#include <algorithm>
#include <utility>

namespace stackfit {
namespace {

bool same_outlines(const std::vector<geometry::Outline>& a,
                   const std::vector<geometry::Outline>& b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), geometry::identical);
}

bool same_geometry(const WallPair& a, const WallPair& b) {
  return a.width_mm == b.width_mm && a.height_mm == b.height_mm && a.mirrored == b.mirrored &&
         a.edge_scale == b.edge_scale && a.large_bow == b.large_bow &&
         same_outlines(a.faces, b.faces) && same_outlines(a.sheets, b.sheets);
}

}  // namespace

std::shared_ptr<const WallStore::Walls> WallStore::known_walls(const WallPair& pair,
                                                               bool lid_holds) const {
  for (const Entry& entry : walls_) {
    if (entry.lid_holds == lid_holds && entry.pair.first == pair.first &&
        entry.pair.last == pair.last && same_geometry(entry.pair, pair)) {
      return entry.walls;
    }
  }
  return nullptr;
}

std::shared_ptr<const WallStore::Walls> WallStore::walls(const WallPair& pair, bool lid_holds) {
  {
    const std::lock_guard lock(mutex_);
    if (auto known = known_walls(pair, lid_holds)) {
      return known;
    }
  }
  auto made = std::make_shared<Walls>();
  made->mesh = mesh_walls(pair);
  made->open = std::make_shared<const WallModes>(made->mesh, pair, false);
  made->closed = lid_holds ? std::make_shared<const WallModes>(made->mesh, pair, true) : made->open;
  const std::lock_guard lock(mutex_);
  if (auto known = known_walls(pair, lid_holds)) {
    return known;  // another thread was quicker
  }
  walls_.push_back({pair, lid_holds, made});
  return made;
}

std::shared_ptr<const WallStore::Curves> WallStore::find(const Key& key) const {
  const std::lock_guard lock(mutex_);
  const auto known = curves_.find(key);
  return known == curves_.end() ? nullptr : known->second;
}

void WallStore::keep(Key key, std::shared_ptr<const Curves> curves) {
  const std::lock_guard lock(mutex_);
  curves_.emplace(std::move(key), std::move(curves));
}

}  // namespace stackfit
