/* table/programme/programme.h: what every output of a programme shares. */
#ifndef GRADIN_TABLE_PROGRAMME_H
#define GRADIN_TABLE_PROGRAMME_H

#include "gradin/studies/programme.h"
#include "table/shared/date.h"
#include "table/shared/text.h"

const char *table_staged_layout(const gradin_programme_plan *plan, int layout);
/* Does the programme state hours that cost more? */
bool table_has_night(const gradin_programme *programme);
bool table_is_changed(const gradin_staging *staging);
/* "" or a sentence on what of a show cannot be had as asked. */
void table_put_clash(table_text *out, const gradin_programme_plan *plan, int show);

#endif
