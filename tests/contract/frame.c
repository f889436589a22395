/* The frame of the generated calls: contract.h. */
#include "contract.h"

#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

enum { N_ZERO = 16, ZERO_SIZE = 1 << 20, SECONDS = 20, NO_TEXT = 11, STATUS = 20 };

gradin_error frame_error;
static _Alignas(64) unsigned char zero[N_ZERO][ZERO_SIZE];
static int n_passed, n_failed;

gradin_arena *frame_arena(void) {
    return gradin_arena_create();
}

void *frame_zero(int index) {
    return zero[index];
}

void frame_status(gradin_status status, frame_expected expected) {
    bool is_told = frame_error.n_diagnostic > 0;
    for (int i = 0; i < frame_error.n_diagnostic; i++)
        is_told = is_told && frame_error.diagnostic[i].text[0] != '\0';
    if (expected != FRAME_ANY && status != GRADIN_BAD_USE) _exit(STATUS + (int)status);
    if (expected == FRAME_BAD_USE && !is_told) _exit(NO_TEXT);
}

void frame_leave(void) {
    _exit(0);
}

static void fail(const char *function, const char *label, const char *why) {
    printf("%s, %s: %s\n", function, label, why);
    n_failed++;
}

static bool is_endless(int signal) {
    return signal == SIGXCPU || signal == SIGALRM || signal == SIGKILL;
}

bool frame_enter(const char *function, const char *label) {
    int status;
    fflush(NULL);
    pid_t child = fork();
    if (child == 0) {
        setrlimit(RLIMIT_CPU,
                  &(struct rlimit){SECONDS, SECONDS + 1}); /* a busy machine fails none */
        alarm(100 * SECONDS);                              /* what waits for ever */
        return true;
    }
    if (child < 0 || waitpid(child, &status, 0) != child)
        fail(function, label, "no process");
    else if (WIFSIGNALED(status))
        fail(function, label, is_endless(WTERMSIG(status)) ? "does not end" : "crashes");
    else if (WEXITSTATUS(status) == NO_TEXT)
        fail(function, label, "GRADIN_BAD_USE without a text");
    else if (WEXITSTATUS(status) >= STATUS)
        fail(function, label, gradin_status_name((gradin_status)(WEXITSTATUS(status) - STATUS)));
    else if (WEXITSTATUS(status) != 0)
        fail(function, label, "ends with a report");
    else
        n_passed++;
    return false;
}

int frame_end(void) {
    printf("%d passed, %d failed\n", n_passed, n_failed);
    return n_failed == 0 && n_passed > 0 ? 0 : 1;
}
