/* faults/heap.h: a malloc() that fails on demand, for all shared libraries as well. */
#ifndef TEST_FAULTS_HEAP_H
#define TEST_FAULTS_HEAP_H

#include <stdbool.h>

/* The n-th allocation from now fails, all later ones succeed; 0 turns it off. */
void heap_fail_at(long n);
/* False in a sanitizer's build, which has an allocator of its own. */
bool heap_can_fail(void);

#endif
