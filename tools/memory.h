/* tools/memory.h: a request for memory that fails ends the run, whichever library made it. */
#ifndef GRADIN_TOOLS_MEMORY_H
#define GRADIN_TOOLS_MEMORY_H

/* First of all in main(); may start the program anew under a limit of address space. */
void guard_memory(char *const *argument);
/* Last of all: the result of main(), as it is given. */
int leave_memory(int result);

#endif
