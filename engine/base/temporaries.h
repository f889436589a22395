/* base/temporaries.h: names of the files that are being written, for a program that is told to
 * stop. */
#ifndef GRADIN_BASE_TEMPORARIES_H
#define GRADIN_BASE_TEMPORARIES_H

/* Opens a new file beside `path`, for it alone; its descriptor, or -1 with errno. *slot, to be
 * given back by temporary_close(), holds its name. */
int temporary_open(const char *path, int mode, int *slot);
const char *temporary_name(int slot);
void temporary_close(int slot);

#endif
