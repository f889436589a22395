/* Temporary files, each made under a name that nobody else has (O_EXCL: a link that lies there is
 * not followed). The table is read by a signal's handler, so it needs no lock: a slot belongs to
 * who takes it, and its name is complete before the slot says so. From taking a slot to naming it
 * signals are held back, so that a handler always runs beside it, waits for the name, and no file
 * comes after it has looked. */
#include "base/temporaries.h"
#include "gradin/run.h"

#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <poll.h>
#include <signal.h>
#include <stdatomic.h>
#include <stdio.h>
#include <unistd.h>

enum { N_SLOT = 64, N_TRY = 100, N_WAIT = 1000 };
enum { FREE, TAKEN, NAMED };

static struct {
    atomic_int state;
    char name[PATH_MAX];
} slots[N_SLOT];

static atomic_bool is_abandoned;

static int take_slot(void) {
    for (int i = 0; i < N_SLOT; i++) {
        int was = FREE;
        if (atomic_compare_exchange_strong(&slots[i].state, &was, TAKEN)) return i;
    }
    errno = EMFILE;
    return -1;
}

static int open_new(char *name, const char *path, int mode) {
    for (int i = 0; i < N_TRY; i++) {
        int length = snprintf(name, PATH_MAX, "%s.%ld-%d.tmp", path, (long)getpid(), i);
        if (length < 0 || length >= PATH_MAX) {
            errno = ENAMETOOLONG;
            return -1;
        }
        int fd = open(name, O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, mode);
        if (fd >= 0 || errno != EEXIST) return fd;
    }
    return -1;
}

static int open_in_slot(const char *path, int mode, int slot) {
    int fd = -1;
    if (atomic_load(&is_abandoned))
        errno = EINTR;
    else
        fd = open_new(slots[slot].name, path, mode);
    atomic_store(&slots[slot].state, fd < 0 ? FREE : NAMED);
    return fd;
}

int temporary_open(const char *path, int mode, int *slot) {
    sigset_t all, before;
    sigfillset(&all);
    pthread_sigmask(SIG_SETMASK, &all, &before);
    *slot = take_slot();
    int fd = *slot < 0 ? -1 : open_in_slot(path, mode, *slot), reason = errno;
    pthread_sigmask(SIG_SETMASK, &before, NULL);
    errno = reason;
    return fd;
}

const char *temporary_name(int slot) {
    return slots[slot].name;
}

void temporary_close(int slot) {
    atomic_store(&slots[slot].state, FREE);
}

void gradin_write_abandon(void) {
    atomic_store(&is_abandoned, true);
    for (int i = 0; i < N_SLOT; i++) {
        for (int k = 0; k < N_WAIT && atomic_load(&slots[i].state) == TAKEN; k++) poll(NULL, 0, 1);
        if (atomic_load(&slots[i].state) == NAMED) unlink(slots[i].name);
    }
}
