/* table/cautions.h: what every summary says beside its figures. */
#ifndef GRADIN_TABLE_CAUTIONS_H
#define GRADIN_TABLE_CAUTIONS_H

/* NULL-ended. */
extern const char *const table_cautions[];

#endif
