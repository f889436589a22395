/* Writes the manual pages and the completion of shells below a folder, from the definitions of the
 * verbs. The build runs it; it is not installed.
 *
 * usage: gradin_pages DIR */
#include "command.h"

#include <errno.h>
#include <string.h>
#include <sys/stat.h>

typedef void page_writer(FILE *out, const command_form *command);

static bool close_page(FILE *out, const char *path) {
    bool is_written = !ferror(out);
    if (fclose(out) == 0 && is_written) return true;
    say("%s: %s", path, strerror(errno));
    return false;
}

static FILE *open_page(const char *dir, const char *name, char *path, size_t size) {
    snprintf(path, size, "%s/%s", dir, name);
    FILE *out = fopen(path, "w");
    if (!out) say("%s: %s", path, strerror(errno));
    return out;
}

static bool write_page(const char *dir, const char *name, page_writer *write) {
    char path[1024];
    FILE *out = open_page(dir, name, path, sizeof path);
    if (!out) return false;
    write(out, &gradin_command);
    return close_page(out, path);
}

static bool write_verb_page(const char *dir, const verb_form *verb) {
    char path[1024], name[80];
    snprintf(name, sizeof name, "man1/%s-%s.1", gradin_command.name, verb->name);
    FILE *out = open_page(dir, name, path, sizeof path);
    if (!out) return false;
    write_verb_manual(out, &gradin_command, verb);
    return close_page(out, path);
}

static bool make_folders(const char *dir) {
    static const char *const below[] = {"", "/man1", "/bash", "/zsh"};
    char path[1024];
    for (size_t i = 0; i < sizeof below / sizeof *below; i++) {
        snprintf(path, sizeof path, "%s%s", dir, below[i]);
        if (make_folder(path) != EXIT_DONE) return false;
    }
    return true;
}

int main(int n_argument, char **argument) {
    if (n_argument != 2) {
        say("usage: gradin_pages DIR");
        return EXIT_INPUT;
    }
    const char *dir = argument[1];
    bool is_done = make_folders(dir) && write_page(dir, "man1/gradin.1", write_manual) &&
                   write_page(dir, "bash/gradin", write_bash_completion) &&
                   write_page(dir, "zsh/_gradin", write_zsh_completion);
    for (int i = 0; i < gradin_command.n_verb && is_done; i++)
        is_done = write_verb_page(dir, gradin_command.verb[i]);
    return is_done ? EXIT_DONE : EXIT_MACHINE;
}
