/* tests/cases/case.h: text cases against published values. Grammar of a .case file, one item a
 * line:
 *
 *   # comment
 *   source TEXT            where the following expected values come from, until the next source
 *   status WORD            confirmed | recomputed | memory | derived | practice
 *   OPERATION name=1.5mm name=2,3,4dB ... = EXPECTED[unit] ~ TOLERANCE[unit]
 *
 * Values are converted to SI by their unit (none, m mm cm in ft, deg, Hz kHz, dB, dB/m dB/km, s, %,
 * kg/m2, kg/m3, degC, kPa, Pa, GPa, m/s, m2, m3, sr); names and counts must be those of the
 * operation, in its order. */
#ifndef GRADIN_TEST_CASE_H
#define GRADIN_TEST_CASE_H

typedef struct case_operation {
    const char *name;
    const char *arguments; /* "d r n t", or "r*16 band" for a list of 16 */
    double (*run)(
        const double *in); /* in: all arguments in order, SI; degC stays degC, % stays % */
} case_operation;

/* Each ended by a zeroed entry. */
extern const case_operation case_geometry[];  /* tests/cases/ops_geometry.c */
extern const case_operation case_machines[];  /* tests/cases/ops_machines.c */
extern const case_operation case_sightline[]; /* tests/cases/ops_sightline.c */
extern const case_operation case_acoustics[]; /* tests/cases/ops_acoustics.c */

#endif
