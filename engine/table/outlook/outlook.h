/* table/outlook/outlook.h: what every output says beside an outlook's figures. */
#ifndef GRADIN_TABLE_OUTLOOK_H
#define GRADIN_TABLE_OUTLOOK_H

enum { OUTLOOK_N_NOTE = 4 };

/* What the figures mean, and what is not in them. */
extern const char *const outlook_note[OUTLOOK_N_NOTE];
/* Said only where panes lean. */
extern const char outlook_leaning_note[];

#endif
