/* table/shared/doubt.h: how well levels are known, in words. */
#ifndef GRADIN_TABLE_DOUBT_H
#define GRADIN_TABLE_DOUBT_H

#include "gradin/acoustics.h"
#include "table/shared/text.h"

/* A line: the systematic uncertainty, its parts, and the scatter of single events,
 * such as "about it"; NULL: a short line. */
void table_put_doubt(table_text *out, const gradin_uncertainty *uncertainty, double systematic_db,
                     const char *about);
/* Ends a line: how many of n_seat seats are within, too near to tell and over; then what is not in
 * the levels, as far as it counts.
 */
void table_put_verdicts(table_text *out, const int n_verdict[GRADIN_N_VERDICT], int n_seat,
                        double confidence, const gradin_gaps *gaps);
/* The envelope's part of a systematic uncertainty. */
double table_envelope_db(const gradin_uncertainty *uncertainty, double systematic_db);
/* Lines when the least level of those beside them is below the hall's own noise; own_dba is NAN
 * where that is not stated. */
void table_put_quiet(table_text *out, double least_dba, double own_dba);

#endif
