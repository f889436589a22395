/* studies/sweep/sweep.h: the parts of a sweep. */
#ifndef GRADIN_STUDIES_SWEEP_H
#define GRADIN_STUDIES_SWEEP_H

#include "gradin/studies/sweep.h"

/* What one stage makes of a point: its figures, or why it cannot be. */
typedef struct sweep_stage_result {
    const char *refused;
    gradin_known figure[GRADIN_N_STUDY_FIGURE]; /* those of its stage */
} sweep_stage_result;

/* memory.c: results of stages by what they were worked out from. */
typedef struct gradin_sweep_memory sweep_memory;
sweep_memory *sweep_memory_create(void);
void sweep_memory_destroy(sweep_memory *memory);
/* NULL when it is not there. */
const sweep_stage_result *sweep_memory_find(const sweep_memory *memory, const char *key);
/* False without memory. */
bool sweep_memory_keep(sweep_memory *memory, const char *key, const sweep_stage_result *result);

/* Digest of the stage and of all values of a point that it depends on. False when that is every
 * key, or the point is the files as they are written: then nothing is shared. */
bool sweep_key(const gradin_study *study, int point, gradin_stage stage, char key[33]);

/* Stages, each a file: fill the figures of theirs. GRADIN_BAD_INPUT: the point cannot be. */
typedef struct sweep_work {
    gradin_arena *arena;
    gradin_sweep *sweep;
    const gradin_study_inputs *inputs;
    int point;
    gradin_error *error;
} sweep_work;
void sweep_rays_destroy(struct gradin_sweep_rays *rays);
gradin_status sweep_look(const sweep_work *work, gradin_known *figure);
gradin_status sweep_hear_pass(const sweep_work *work, gradin_known *figure);
gradin_status sweep_hear_season(const sweep_work *work, gradin_known *figure);
gradin_status sweep_change_over(const sweep_work *work, gradin_known *figure);
gradin_status sweep_weigh(const sweep_work *work, gradin_known *figure);

/* known.c: figures and their bounds. */
gradin_known sweep_certain(double value);
gradin_known sweep_between(double at_low, double value, double at_high);

/* judge.c: does a row keep the needs, and is one better in the aims than another? */
gradin_verdict sweep_judge(const gradin_study *study, const gradin_sweep_row *row);
bool sweep_keeps_as_stated(const gradin_study *study, const gradin_sweep_row *row);
/* Part of a need that a value misses; INFINITY of none. */
double sweep_part_missed(double value, const gradin_study_bound *bound);
/* Largest part of a need that the figures as stated miss it by; INFINITY when refused. */
double sweep_miss(const gradin_study *study, const gradin_sweep_row *row);
/* Below 0 when a is the better one, by the aims one after the other, then by number. */
int sweep_compare(const gradin_study *study, const gradin_sweep_row *a, const gradin_sweep_row *b);
/* Is a no worse in any aim and better in one? */
bool sweep_beats(const gradin_study *study, const gradin_sweep_row *a, const gradin_sweep_row *b);
/* Column of a figure. */
int sweep_column(const gradin_study *study, gradin_study_figure figure);

/* Has each need and aim its column? */
bool sweep_has_columns(const gradin_study *study);

/* guard.c: does the point keep what the files as they are keep of the rough checks? Fills
 * row->refused when it does not. */
gradin_status sweep_guard(const sweep_work *work, gradin_sweep_row *row);

/* effects.c, front.c: parts of the result. */
gradin_status sweep_effects(gradin_arena *arena, gradin_sweep_result *result);
gradin_status sweep_front(gradin_arena *arena, gradin_sweep_result *result);

#endif
