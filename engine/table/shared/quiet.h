/* table/shared/quiet.h: what to say of levels that nobody will hear or measure. */
#ifndef GRADIN_TABLE_SHARED_QUIET_H
#define GRADIN_TABLE_SHARED_QUIET_H

#include "table/shared/text.h"

/* Lines when the least level of those beside them is below the hall's own noise; own_dba is NAN
 * where that is not stated. */
void table_put_quiet(table_text *out, double least_dba, double own_dba);

#endif
