/* table/shared/cautions.h: what every report says about its own limits. */
#ifndef GRADIN_TABLE_CAUTIONS_H
#define GRADIN_TABLE_CAUTIONS_H

enum { TABLE_N_CAUTION = 3 };

/* Each at most 96 characters. */
extern const char *const table_caution[TABLE_N_CAUTION];

#endif
