/* gradin/gradin.h: the whole library. What flows through it:
 *
 * - venue.h, layout.h: what a hall is and how a layout sets it, in memory or read by files.h
 * - model.h: the two built: every seat, everything that hides, every element that lets noise in
 * - sightline.h: what each seat sees
 * - studies/outside.h, studies/outlook.h: what is seen through open glass, from outside and from
 * each seat
 * - studies/view.h, studies/viewpoints.h: what one seat looks at, and seats worth a look
 * - studies/cut.h: an upright cut through the hall
 * - acoustics.h, acoustics/event.h, acoustics/speech.h, acoustics/uncertainty.h: what each seat
 * hears of an overflight or of any event, and how well that is known
 * - acoustics/spectrum.h, acoustics/noise_rating.h: spectra of one's own and their ratings
 * - studies.h, studies/fit.h, studies/draft.h, studies/changeover.h, studies/compare.h,
 * studies/season.h, acoustics/glazing.h, acoustics/listen.h: whole studies
 * - table.h, studies/compare_write.h, studies/season_write.h, studies/outlook_write.h,
 * acoustics/listen_write.h, render.h, studies/compare_plot.h, studies/season_plot.h,
 * studies/outlook_map.h, studies/view_picture.h, studies/view_write.h: results as CSV, JSON, text
 * and pictures
 * - studies/page/page.h, studies/page/picture.h: a layout, or two compared, on one page
 * - studies/page/passing.h: a layout's overflight against time
 * - studies/report_write.h: one HTML document of them
 * - run.h: which files were read, and how to stop in the middle
 *
 * A function that can fail returns a gradin_status and tells its gradin_error why (base.h). A
 * caller who gives NULL for what a function needs, or a struct without its required fields, gets
 * GRADIN_BAD_USE; only what is asked for each ray (gradin_shape_hit, gradin_visibility,
 * gradin_mask_first, gradin_mask_clear, gradin_rays_first, gradin_beam_first,
 * gradin_beam_is_clear, gradin_visibility_reference) and arrays of plain numbers are taken on
 * trust. tests/install/small_hall.c is an example.
 *
 * Ownership and threads: Whatever is returned lives in the arena that was given, which the caller
 * destroys; calls that share no arena may run in different threads. */
#ifndef GRADIN_GRADIN_H
#define GRADIN_GRADIN_H

#include "gradin/acoustics.h"
#include "gradin/acoustics/buildup.h"
#include "gradin/acoustics/event.h"
#include "gradin/acoustics/facade.h"
#include "gradin/acoustics/glazing.h"
#include "gradin/acoustics/listen.h"
#include "gradin/acoustics/listen_write.h"
#include "gradin/acoustics/noise_rating.h"
#include "gradin/acoustics/room.h"
#include "gradin/acoustics/source.h"
#include "gradin/acoustics/spectrum.h"
#include "gradin/acoustics/speech.h"
#include "gradin/acoustics/traffic.h"
#include "gradin/acoustics/uncertainty.h"
#include "gradin/base.h"
#include "gradin/export.h"
#include "gradin/files.h"
#include "gradin/geometry.h"
#include "gradin/journal.h"
#include "gradin/layout.h"
#include "gradin/loads.h"
#include "gradin/machines.h"
#include "gradin/model.h"
#include "gradin/picture.h"
#include "gradin/programme.h"
#include "gradin/render.h"
#include "gradin/run.h"
#include "gradin/show.h"
#include "gradin/sightline.h"
#include "gradin/studies.h"
#include "gradin/studies/changeover.h"
#include "gradin/studies/choose.h"
#include "gradin/studies/choose_write.h"
#include "gradin/studies/compare.h"
#include "gradin/studies/compare_plot.h"
#include "gradin/studies/compare_write.h"
#include "gradin/studies/cut.h"
#include "gradin/studies/draft.h"
#include "gradin/studies/fit.h"
#include "gradin/studies/outlook.h"
#include "gradin/studies/outlook_map.h"
#include "gradin/studies/outlook_write.h"
#include "gradin/studies/outside.h"
#include "gradin/studies/page/page.h"
#include "gradin/studies/page/passing.h"
#include "gradin/studies/page/picture.h"
#include "gradin/studies/programme.h"
#include "gradin/studies/programme_write.h"
#include "gradin/studies/report_write.h"
#include "gradin/studies/season.h"
#include "gradin/studies/season_plot.h"
#include "gradin/studies/season_write.h"
#include "gradin/studies/seek.h"
#include "gradin/studies/sweep.h"
#include "gradin/studies/sweep_plot.h"
#include "gradin/studies/sweep_write.h"
#include "gradin/studies/view.h"
#include "gradin/studies/view_picture.h"
#include "gradin/studies/view_write.h"
#include "gradin/studies/viewpoints.h"
#include "gradin/study.h"
#include "gradin/study_inputs.h"
#include "gradin/table.h"
#include "gradin/venue.h"
#include "gradin/version.h"
#include "gradin/wishes.h"

#endif
