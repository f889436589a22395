/* fuzz/target.h: one input file of any bytes through its reader and, when it holds, onwards. */
#ifndef TEST_FUZZ_TARGET_H
#define TEST_FUZZ_TARGET_H

#include "gradin/base.h"

typedef struct fuzz_kind fuzz_kind;

/* Makes a folder with the small hall's good files and more, out of which the input takes its
 * neighbours. False when the file system refuses. */
bool target_open(const char *hall_dir, const char *more_dir);
void target_close(void);

/* Writes the bytes as the kind's input (it stays there when the reader crashes) and has it read.
 * Returns the status; *complaint gets what is wrong with the way the input was refused, or NULL. */
gradin_status target_run(const fuzz_kind *kind, const void *bytes, size_t size,
                         const char **complaint);

#endif
