/* base/faults.h: lets a test make an allocation or a write fail; not part of the library's
 * interface. Both hold for the whole process. */
#ifndef GRADIN_BASE_FAULTS_H
#define GRADIN_BASE_FAULTS_H

/* The n-th allocation from an arena from now (1-based) fails, all later ones succeed; 0 turns it
 * off. */
void gradin_alloc_fail_at(long n);

/* The n-th write from now fails (disk full), all later ones succeed; 0 turns it off. */
void gradin_write_fail_at(long n);

#endif
