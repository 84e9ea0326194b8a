// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/press_protocol.hpp"

#include <fmt/format.h>

#include "cli/figures.hpp"
#include "solver/assumptions.hpp"

namespace stackfit::cli {
namespace {

constexpr const char* protocol =
    R"(STOP: a swollen, warm, dented, leaking or smelling cell is never pressed.
PRESS TEST OF ONE CELL: how much thinner it gets under force

First
  1 Look at the cell: smell, leak, warmth, dent, dome, noise, colour. Any sign:
    it is set aside outdoors, away from what burns, and not pressed.
  2 One sound cell, caps on its terminals, rings and watch off. Rested an hour:
    charge ______ %   temperature ______ C   date __________   cell __________
  3 Two flat, stiff boards larger than the face, free of terminals and vent,
    level on a firm floor. An insulating sheet between each board and the can.
    Boards and sheets closed without the cell: ______ mm, to be taken off.
  4 Known weights: plates, full cans or sacks, each on a scale before. What lies
    on the cell counts, the upper board too. No jack, lever, clamp, body weight.
  5 Maker's force on the face: ______ kgf. It is never passed. No maker's word:
    stop at {stop} * (on 141 x 183 mm that is {stop_force}).
    Low, wide stacks; hands and feet out from under. A crack, a smell, warmth or
    a corner that sinks: weights off, air the room, the cell is set aside.

Eight loads
  6 Evenly from the upper board and a first weight to that force.
  7 After each change wait 5 minutes, each time the same.
  8 Read between the boards at all four corners to 0.01 mm; the mean, less what
    step 3 says, is the thickness. Corners more than 0.3 mm apart: the load is
    off the middle; shift it and read again.
  9 Take the weights off in the same steps and read again: branch "unloading".
 10 All of it once more, as further lines below the first. Then look, feel and
    smell as in step 1: sound as before? [ ]

Save as press.csv (a comma between fields; the unit of the force must be said):
{header}
______,______,loading,
______,______,unloading,

Then, with the face and the data sheet's thickness, or with the build it is for:
  stackfit softness press.csv --face 141x183 --thickness "58.2 mm"
  stackfit softness press.csv --for build.json

* assumed. The maker's data sheet and local codes overrule this sheet.
)";

// The face of the sentence that says what the assumed pressure is in weights.
constexpr double example_face_mm2 = 141.0 * 183.0;

}  // namespace

std::string press_protocol() {
  const Figures figures;
  const double stop_mpa = assumption(Assumed::makers_pressure).value;
  return fmt::format(protocol, fmt::arg("stop", figures.pressure(stop_mpa)),
                     fmt::arg("stop_force", figures.force(stop_mpa * example_face_mm2)),
                     fmt::arg("header", press_form_header));
}

}  // namespace stackfit::cli
