// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/measuring_sheet.hpp"

#include <fmt/format.h>

namespace stackfit::cli {
namespace {

constexpr const char* cautions =
    R"(STOP  A cell that smells, leaks, is warm or dented is not measured: it goes
      outdoors, away from what burns; ask someone who knows. A swollen cell is
      never pressed.
STOP  Steel calipers bridge terminals and cans. One cell at a time on the bench,
      caps on its terminals, calipers across the two large faces only.
STOP  Rings and watch off. Never measure over a terminal, a weld or the vent.
)";

constexpr const char* drawing = R"(
        top, with terminals                 from above
       +---[]-----[]---+              +-------------------+
       |               |         edge |                   | edge
       | e           e |       -->||  |  middle           |  ||<--
       |               |              |   -->||<--        |
       |       m       |              +-------------------+
       |               |         calipers stand square to the faces
       | e           e |         and close with a light hand
       +---------------+

edge    e: 10 mm in from the rim, clear of welds and vent. Read four places,
        write down the mean.
middle  m: the middle of the face. Ordinary calipers reach about 40 mm: use a
        deep jaw, or two flat boards less what the boards measure alone.
boards  between two flat boards, light hand: the highest point of both faces.
pressed between flat plates under a force you know: write the force beside it.
Middle minus edge is the dome; without the edge, a dome looks like thickness.
)";

// For cells that are visibly domed or hollow: each face by itself.
constexpr const char* dome_part = R"(
Dome of one face, where no deep jaw is at hand (read the edge as well):
straightedge  of wood or plastic, on edge across the middle of the face. Where
        it rocks on the middle: level it, read the feeler gap at both ends,
        write down the mean. Where it rests on the ends the face is hollow:
        read the gap in the middle, a minus before it. Front and back.
points  heights on a grid of 5 by 5, the outer ones 10 mm in from the rim, by
        dial or depth gauge from a flat plane; more is further out.
             -------------------
            | .   .   .   .   . |    x from the middle to the right, y up, as
            | .   .   .   .   . |    seen from that face; z outwards, from any
            | .   .   +   .   . |    plane: how the cell lies does not matter.
            | .   .   .   .   . |    6 places at least; 9 tell the shape too.
            | .   .   .   .   . |
             -------------------
)";

constexpr const char* conditions = R"(
Date ____________   Temperature ______ C   Calipers zeroed [ ]
Charge of the cells ______ %   known how: as shipped [ ]  counted Ah [ ]  ______
    (an LFP cell's resting voltage says little between 20 and 90 %)
Whole row between two boards, bare cells, light hand: ____________ mm
)";

constexpr const char* box_part = R"(
Box, inside, along the row (steel rule or inside calipers, after paint):
    bottom left ________  bottom right ________  middle ________
    top left    ________  top right    ________  mm
    width ________  height ________ mm   bend radius or weld inside ______ mm
End wall: thickness ______ mm  metal __________  folded/welded/screwed _______
    lid: none/loose/screwed _______  comes off: one end wall/both/none _______
Shims on hand, each pile measured as a stack of ten:
    ______ mm x ____   ______ mm x ____   ______ mm x ____   material ________
)";

constexpr const char* history_part = R"(
History, if known: bought ________  first used ________  stored at ______ %
    capacity measured ________ Ah   ever below 2.0 V or dropped? ____________
)";

// The columns carry the names of the table a build file reads.
std::string cell_table(std::size_t cells, bool used) {
  std::string text =
      used ? "\n  id    edge mm   middle mm   boards mm   voltage V   signs (none, or which)\n"
           : "\n  id    edge mm   middle mm   boards mm   voltage V   signs\n";
  for (std::size_t cell = 1; cell <= cells; ++cell) {
    text += fmt::format("  {:<4}  _______   _________   _________   _________   {}\n", cell,
                        used ? "______________________" : "________");
  }
  return text;
}

constexpr const char* closing = R"(
As a table for the program, save this as CSV and name it in the build file:
    id,edge (mm),middle (mm),boards (mm),voltage (V),signs
Straightedge: two columns more, straightedge_front (mm),straightedge_back (mm).
Points: a column more, points, the name of a CSV with a line for each reading:
    cell,face,x (mm),y (mm),z (mm)
    A,front,-60.0,-80.0,0.12
    A,back,0.0,0.0,0.64
The maker's data sheet and local codes overrule this sheet.
)";

}  // namespace

std::string measuring_sheet(std::size_t cells, bool used) {
  std::string text = "MEASURING SHEET FOR A ROW OF CELLS\n\n";
  text += cautions;
  text += drawing;
  text += dome_part;
  text += conditions;
  text += cell_table(cells, used);
  if (used) text += history_part;
  text += box_part;
  text += closing;
  return text;
}

}  // namespace stackfit::cli
