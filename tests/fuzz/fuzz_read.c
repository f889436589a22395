/* libFuzzer target of the reader and of what follows it; run.sh builds and runs it. */
#include "fuzz/target.h"

#include <stdio.h>
#include <stdlib.h>

int LLVMFuzzerInitialize(int *n_argument, char ***argument);
int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

int LLVMFuzzerInitialize(int *n_argument, char ***argument) {
    (void)n_argument;
    (void)argument;
    if (!target_open(GRADIN_SOURCE_DIR "/tests/faults/hall")) abort();
    atexit(target_close);
    return 0;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    const char *complaint = NULL;
    target_run(data, size, &complaint);
    if (!complaint) return 0;
    fprintf(stderr, "%s\n", complaint);
    abort();
}
