/* fuzz/target.h: one input file of any bytes through the reader and, when it holds, onwards. */
#ifndef TEST_FUZZ_TARGET_H
#define TEST_FUZZ_TARGET_H

#include "gradin/base.h"

/* Makes a folder with the small hall's good files, out of which the input takes its neighbours.
 * False when the file system refuses. */
bool target_open(const char *hall_dir);
void target_close(void);

/* Writes the bytes as input.yaml (it stays there when the reader crashes) and checks them as any
 * kind of file; a good layout is assessed, a good venue gets the hall's layout. Returns the status;
 * *complaint gets what is wrong with the way the input was refused, or NULL. */
gradin_status target_run(const void *bytes, size_t size, const char **complaint);

#endif
