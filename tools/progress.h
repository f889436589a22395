/* tools/progress.h: one line on a terminal that says what a run is at. It comes after a second, is
 * gone before anything else is printed, and never goes into a pipe or a file. */
#ifndef GRADIN_TOOLS_PROGRESS_H
#define GRADIN_TOOLS_PROGRESS_H

#include <stdbool.h>

/* Until progress_end() standard error shows the line, if it is a terminal. */
void progress_begin(const char *step);
void progress_end(void);
/* What is done from here on. Beside it stands how long the run has taken. */
void progress_step(const char *format, ...) __attribute__((format(printf, 1, 2)));
/* As a step, but shown at once: for one that is known to take long. */
void progress_long_step(const char *step);
/* How far the step is: "seats 3 of 20" of user progress_seats. For a callback of the library. */
extern char progress_seats[], progress_points[], progress_flights[];
void progress_count(void *user, int done, int total);
/* The same as a percentage, without a word. */
void progress_percent(void *user, int done, int total);
/* Takes the line away until there is something new to tell. */
void progress_hide(void);
/* The same in a signal's handler, after which the process ends. */
void progress_abandon(void);

#endif
