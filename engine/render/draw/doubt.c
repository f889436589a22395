/* The caution of a page of noise: how well its levels are known. */
#include "render/draw/doubt.h"

#include <stdio.h>

void doubt_text(double systematic_db, double scatter_db, char *text, size_t size) {
    char known[24], scatter[24];
    gradin_format_fixed(known, sizeof known, systematic_db, 1);
    gradin_format_fixed(scatter, sizeof scatter, scatter_db, 1);
    snprintf(text, size,
             "Predicted, not measured; levels are known to \xC2\xB1%s dB (standard uncertainty of "
             "source, envelope and room), and single events scatter by \xC2\xB1%s dB about them. "
             "Levels re 20 \xC2\xB5Pa. Have an acoustician confirm glazing, tracks and spectra.",
             known, scatter);
}
