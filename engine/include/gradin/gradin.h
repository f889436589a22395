/* gradin/gradin.h: the whole library. What flows through it:
 *
 * - venue.h, layout.h: what a hall is and how a layout sets it, in memory or read by files.h
 * - model.h: the two built: every seat, everything that hides, every element that lets noise in
 * - sightline.h: what each seat sees
 * - outside.h, outlook.h: what is seen through open glass, from outside and from each seat
 * - acoustics.h, event.h, speech.h, uncertainty.h: what each seat hears of an overflight or of any
 *   event, and how well that is known
 * - spectrum.h, noise_rating.h: spectra of one's own and their ratings
 * - studies.h, fit.h, draft.h, changeover.h, compare.h, season.h, glazing.h, listen.h:
 *   whole studies
 * - table.h, compare_write.h, season_write.h, outlook_write.h, listen_write.h, render.h,
 *   compare_plot.h, season_plot.h, outlook_map.h: results as CSV, JSON, text and pictures
 * - run.h: which files were read, and how to stop in the middle
 *
 * A function that can fail returns a gradin_status and tells its gradin_error why (base.h). A
 * caller who gives NULL for what a function needs, or a struct without its required fields, gets
 * GRADIN_BAD_USE; only what is asked for each ray (gradin_shape_hit, gradin_visibility,
 * gradin_mask_first, gradin_mask_clear, gradin_visibility_reference) and arrays of plain numbers
 * are taken on trust. tests/install/small_hall.c is an example.
 *
 * Ownership and threads: Whatever is returned lives in the arena that was given, which the caller
 * destroys; calls that share no arena may run in different threads. */
#ifndef GRADIN_GRADIN_H
#define GRADIN_GRADIN_H

#include "gradin/acoustics.h"
#include "gradin/base.h"
#include "gradin/buildup.h"
#include "gradin/changeover.h"
#include "gradin/compare.h"
#include "gradin/compare_plot.h"
#include "gradin/compare_write.h"
#include "gradin/draft.h"
#include "gradin/event.h"
#include "gradin/export.h"
#include "gradin/facade.h"
#include "gradin/files.h"
#include "gradin/fit.h"
#include "gradin/geometry.h"
#include "gradin/glazing.h"
#include "gradin/layout.h"
#include "gradin/listen.h"
#include "gradin/listen_write.h"
#include "gradin/loads.h"
#include "gradin/machines.h"
#include "gradin/model.h"
#include "gradin/noise_rating.h"
#include "gradin/outlook.h"
#include "gradin/outlook_map.h"
#include "gradin/outlook_write.h"
#include "gradin/outside.h"
#include "gradin/render.h"
#include "gradin/room.h"
#include "gradin/run.h"
#include "gradin/season.h"
#include "gradin/season_plot.h"
#include "gradin/season_write.h"
#include "gradin/sightline.h"
#include "gradin/source.h"
#include "gradin/spectrum.h"
#include "gradin/speech.h"
#include "gradin/studies.h"
#include "gradin/table.h"
#include "gradin/traffic.h"
#include "gradin/uncertainty.h"
#include "gradin/venue.h"
#include "gradin/version.h"
#include "gradin/wishes.h"

#endif
