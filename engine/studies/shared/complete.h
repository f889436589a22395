/* engine/studies/shared/complete.h: has a result all that its counts promise? GRADIN_BAD_USE when
 * it is NULL, names no model, or lacks an array. Nothing is computed, so the writers call these,
 * too. */
#ifndef GRADIN_STUDIES_COMPLETE_H
#define GRADIN_STUDIES_COMPLETE_H

#include "gradin/acoustics/glazing.h"
#include "gradin/acoustics/listen.h"
#include "gradin/acoustics/noise_rating.h"
#include "gradin/studies.h"
#include "gradin/studies/changeover.h"
#include "gradin/studies/choose.h"
#include "gradin/studies/compare.h"
#include "gradin/studies/draft.h"
#include "gradin/studies/fit.h"
#include "gradin/studies/programme.h"
#include "gradin/studies/season.h"
#include "gradin/studies/sweep.h"

gradin_status assessment_complete(const gradin_assessment *assessment, gradin_error *error);
/* The tables ask for more of it than the maps. */
gradin_status assessment_tables_complete(const gradin_assessment *assessment, gradin_error *error);
/* And of a summary, which counts by level. */
gradin_status assessment_summary_complete(const gradin_assessment *assessment, gradin_error *error);
gradin_status rake_complete(const gradin_rake *rake, gradin_error *error);
gradin_status fit_complete(const gradin_fit *fit, gradin_error *error);
gradin_status draft_complete(const gradin_draft *draft, gradin_error *error);
gradin_status changeover_complete(const gradin_changeover *changeover, gradin_error *error);
gradin_status programme_complete(const gradin_programme_plan *plan, gradin_error *error);
gradin_status choice_complete(const gradin_choice *choice, gradin_error *error);
gradin_status season_complete(const gradin_season *season, gradin_error *error);
/* The same of a season. */
gradin_status season_tables_complete(const gradin_season *season, gradin_error *error);
gradin_status comparison_complete(const gradin_comparison *comparison, gradin_error *error);
gradin_status sweep_complete(const gradin_sweep_result *result, gradin_error *error);
gradin_status sheet_complete(const gradin_glazing_sheet *sheet, gradin_error *error);
gradin_status recording_complete(const gradin_recording *recording, gradin_error *error);
gradin_status spectra_complete(const gradin_spectrum_sheet *sheet, gradin_error *error);

/* Is there a line to which C can be measured: one that is stated, or a floor's edge? */
bool assessment_has_c(const gradin_assessment *assessment);

#endif
