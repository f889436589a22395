/* tests/contract/contract.h: the frame of the generated calls. Each call runs in a process of its
 * own: it must come back by itself, and a function that returns a status must say GRADIN_BAD_USE
 * with a text where the caller broke its contract. */
#ifndef GRADIN_CONTRACT_H
#define GRADIN_CONTRACT_H

#include "gradin/gradin.h"

typedef enum frame_expected {
    FRAME_ANY,
    FRAME_BAD_USE,
    FRAME_BAD_USE_UNTOLD /* without a gradin_error to tell it to */
} frame_expected;

extern gradin_error frame_error;

gradin_arena *frame_arena(void);
/* Zeroed memory, the same for each index, large enough for any struct. */
void *frame_zero(int index);
/* Ends the process unless the status is as expected. */
void frame_status(gradin_status status, frame_expected expected);

/* Forks; true in the child, which is to make the call and then frame_leave(). */
bool frame_enter(const char *function, const char *label);
_Noreturn void frame_leave(void);
/* Prints the count; the exit status of the program. */
int frame_end(void);

#define FRAME(function, label, call)                                                               \
    do {                                                                                           \
        if (frame_enter(function, label)) {                                                        \
            call;                                                                                  \
            frame_leave();                                                                         \
        }                                                                                          \
    } while (0)

#endif
