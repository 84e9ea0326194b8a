// SPDX-License-Identifier: GPL-3.0-or-later
//
// The box or frame itself: width and height, end plates, walls, clamp frames.
#include <algorithm>
#include <utility>
#include <vector>

#include "solver/insulation.hpp"
#include "solver/rests_on_assumed.hpp"
#include "solver/size_details.hpp"
#include "solver/sizing.hpp"

namespace stackfit {

SizeAnswer Sizing::run_frame() {
  add_sheets_due();
  answer_.frame = order_frame(build_, assumptions_);
  build_ = answer_.frame->build;
  const Study study(build_, assumptions_, store_);
  describe_row(study);
  answer_.as_ordered = build_;
  if (!answer_.refused.empty()) {
    answer_.verdict = SizeVerdict::stop;
  } else if (answer_.frame->problem == FrameProblem::none) {
    answer_.verdict =
        rests_on_assumed(study) ? SizeVerdict::serves_on_assumed_figures : SizeVerdict::serves;
    answer_.details = detail_frame(study, *answer_.frame, findings_);
    // As they are to be cut: locking nuts are higher than plain ones.
    for (const CutPart& part : answer_.details->cuts) {
      if (part.code == CutCode::rod) {
        answer_.frame->rods.length_mm = part.length_mm;
      }
    }
  } else if (answer_.frame->problem == FrameProblem::plates_too_thin ||
             answer_.frame->problem == FrameProblem::rods_too_thin) {
    answer_.verdict = SizeVerdict::walls_too_weak;
  }
  tell_assumed(study);
  return std::move(answer_);
}

void Sizing::add_sheets_due() {
  Findings scratch;
  Build any = build_;
  any.frame.reset();  // gaps hang on neither rods nor springs
  any.box.inner_length_mm = {rough_length_mm()};
  PlateWall plate;
  plate.material = build_.frame->plates.material;
  any.box.end_walls = plate;
  const Row row = resolve_row(any, assumptions_, scratch);
  const int due = sheets_due(row);
  if (insulators_on_hand(row) < due) {
    LengthOffer sheets;
    sheets.kit = {{demand_.sheets_mm.front(), due}};
    build_.kit = as_kit(sheets, demand_.sheet_material);
  }
}

void Sizing::size_width_and_height() {
  SectionRequest request;
  request.sheets_sold_mm = demand_.sheets_mm;
  request.end_standoff_mm = demand_.sheets_mm.front();
  answer_.section = size_section(build_, assumptions_, findings_, request);
  add_end_plates(request);
  // The walls are as large as the box will be.
  if (!build_.box.inner_width_mm) {
    build_.box.inner_width_mm = answer_.section->width.painted_mm;
  }
  if (!build_.box.inner_height_mm) {
    build_.box.inner_height_mm = answer_.section->height.painted_mm;
  }
}

void Sizing::add_end_plates(SectionRequest request) {
  double due = 0;
  double cut_back = 0;
  for (const SectionCorner& corner : answer_.section->corners) {
    const bool filled = corner.size_mm && *corner.size_mm > 0;
    if (filled &&
        (corner.place == SectionPlace::end_foot || corner.place == SectionPlace::upright)) {
      due = std::max(due, corner.need_mm);
      cut_back = std::max(cut_back, corner.sheet_short_mm);
    }
  }
  std::vector<double> stock = demand_.sheets_mm;
  for (const double filler : fillers()) {
    stock.push_back(filler);
  }
  std::sort(stock.begin(), stock.end());
  const auto plate = std::lower_bound(stock.begin(), stock.end(), due);
  if (due <= demand_.sheets_mm.front() || plate == stock.end()) {
    return;
  }
  SheetInput sheet;
  sheet.name = "end plate";
  sheet.thickness_mm = *plate;
  sheet.material = demand_.sheet_material;
  sheet.where.word = PlaceWord::ends;
  if (cut_back > 0) {
    // A plate that stood on the bead or bend itself would rock on it.
    const FaceSize& face = build_.cell.face;
    sheet.outline =
        SheetOutline{face.width_mm - 2 * cut_back, face.height_mm - 2 * cut_back, 0, {}, {}};
    answer_.end_plate_short_mm = cut_back;
  }
  build_.fixed_sheets.push_back(std::move(sheet));
  answer_.end_plate_mm = *plate;
  request.end_standoff_mm = *plate;
  Findings noted_already;
  answer_.section = size_section(build_, assumptions_, noted_already, request);
}

void Sizing::choose_walls() {
  answer_.walls = order_walls(build_, assumptions_, findings_, store_);
  if (answer_.walls.bends && answer_.walls.from_stock) {
    build_ = with_wall(build_, answer_.walls.chosen.thickness_mm);
  }
}

}  // namespace stackfit
