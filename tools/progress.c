/* The line is drawn by whoever tells something, and once a second by a thread of its own, for most
 * steps are one call into the library. */
#include "progress.h"

#include <pthread.h>
#include <signal.h>
#include <stdarg.h>
#include <stdatomic.h>
#include <stdio.h>
#include <time.h>
#include <unistd.h>

static struct {
    pthread_mutex_t lock;
    pthread_cond_t ended;
    pthread_t clock;
    char step[200];
    struct timespec start;
    time_t counted_s; /* when a count was last told */
    bool is_on, has_clock;
} line = {.lock = PTHREAD_MUTEX_INITIALIZER};
static atomic_bool is_shown;
char progress_seats[] = "seats", progress_points[] = "points", progress_flights[] = "flights";

static const char erasing[] = "\r\033[K";

static struct timespec now(void) {
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return t;
}

static bool is_early(struct timespec t) {
    return (double)(t.tv_sec - line.start.tv_sec) + (double)(t.tv_nsec - line.start.tv_nsec) / 1e9 <
           1.0;
}

static void draw(const char *text) {
    atomic_store(&is_shown, true);
    fprintf(stderr, "\r%s\033[K", text);
}

static void draw_step(struct timespec t) {
    char text[sizeof line.step + 32];
    snprintf(text, sizeof text, "%s, %ld s", line.step, (long)(t.tv_sec - line.start.tv_sec));
    draw(text);
}

static void *tick(void *unused) {
    (void)unused;
    pthread_mutex_lock(&line.lock);
    while (line.is_on) {
        struct timespec t = now();
        t.tv_sec++;
        pthread_cond_timedwait(&line.ended, &line.lock, &t);
        t = now();
        if (line.is_on && !is_early(t) && t.tv_sec - line.counted_s > 1) draw_step(t);
    }
    pthread_mutex_unlock(&line.lock);
    return NULL;
}

/* Signals are for the main thread. Without memory for a thread there is no line by itself. */
static void start_clock(void) {
    sigset_t all, before;
    pthread_condattr_t monotonic;
    pthread_condattr_init(&monotonic);
    pthread_condattr_setclock(&monotonic, CLOCK_MONOTONIC);
    pthread_cond_init(&line.ended, &monotonic);
    pthread_condattr_destroy(&monotonic);
    sigfillset(&all);
    pthread_sigmask(SIG_SETMASK, &all, &before);
    line.has_clock = pthread_create(&line.clock, NULL, tick, NULL) == 0;
    pthread_sigmask(SIG_SETMASK, &before, NULL);
}

void progress_begin(const char *step) {
    if (line.is_on || !isatty(STDERR_FILENO)) return;
    line.start = now();
    line.counted_s = 0;
    line.is_on = true;
    snprintf(line.step, sizeof line.step, "%s", step);
    start_clock();
}

void progress_end(void) {
    if (!line.is_on) return;
    progress_hide();
    pthread_mutex_lock(&line.lock);
    line.is_on = false;
    pthread_cond_signal(&line.ended);
    pthread_mutex_unlock(&line.lock);
    if (line.has_clock) pthread_join(line.clock, NULL);
    pthread_cond_destroy(&line.ended);
}

void progress_step(const char *format, ...) {
    va_list arguments;
    if (!line.is_on) return;
    pthread_mutex_lock(&line.lock);
    va_start(arguments, format);
    vsnprintf(line.step, sizeof line.step, format, arguments);
    va_end(arguments);
    line.counted_s = 0;
    if (!is_early(now())) draw_step(now());
    pthread_mutex_unlock(&line.lock);
}

void progress_long_step(const char *step) {
    if (!line.is_on) return;
    progress_step("%s", step);
    pthread_mutex_lock(&line.lock);
    if (!atomic_load(&is_shown)) draw(step);
    pthread_mutex_unlock(&line.lock);
}

/* Counted so far of the step. */
static void draw_count(const char *count) {
    char text[sizeof line.step + 80];
    struct timespec t = now();
    if (is_early(t)) return;
    pthread_mutex_lock(&line.lock);
    line.counted_s = t.tv_sec;
    snprintf(text, sizeof text, "%s: %s", line.step, count);
    draw(text);
    pthread_mutex_unlock(&line.lock);
}

void progress_count(void *user, int done, int total) {
    char count[64];
    if (!line.is_on || total <= 0) return;
    snprintf(count, sizeof count, "%s %d of %d", (const char *)user, done, total);
    draw_count(count);
}

void progress_percent(void *user, int done, int total) {
    char count[64];
    (void)user;
    if (!line.is_on || total <= 0) return;
    snprintf(count, sizeof count, "%2d %%", (int)(100.0 * done / total));
    draw_count(count);
}

void progress_hide(void) {
    if (!line.is_on) return;
    pthread_mutex_lock(&line.lock);
    if (atomic_exchange(&is_shown, false)) fputs(erasing, stderr);
    pthread_mutex_unlock(&line.lock);
}

void progress_abandon(void) {
    if (atomic_load(&is_shown)) (void)!write(STDERR_FILENO, erasing, sizeof erasing - 1);
}
