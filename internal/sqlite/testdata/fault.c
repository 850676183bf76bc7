/* Makes the disk fail on demand: preloaded into a test process, which sets
 * CROSSBIN_FAULT to "sync" (fsync and fdatasync report an I/O error) or "space"
 * (writing reports a full disk) and takes it away again. */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/types.h>

static int set(const char *kind) {
	const char *e = getenv("CROSSBIN_FAULT");
	return e && strcmp(e, kind) == 0;
}

int fdatasync(int fd) {
	static int (*real)(int);
	if (!real) real = dlsym(RTLD_NEXT, "fdatasync");
	if (set("sync")) { errno = EIO; return -1; }
	return real(fd);
}

int fsync(int fd) {
	static int (*real)(int);
	if (!real) real = dlsym(RTLD_NEXT, "fsync");
	if (set("sync")) { errno = EIO; return -1; }
	return real(fd);
}

ssize_t pwrite64(int fd, const void *buf, size_t n, off64_t at) {
	static ssize_t (*real)(int, const void *, size_t, off64_t);
	if (!real) real = dlsym(RTLD_NEXT, "pwrite64");
	if (set("space")) { errno = ENOSPC; return -1; }
	return real(fd, buf, n, at);
}

ssize_t pwrite(int fd, const void *buf, size_t n, off_t at) {
	static ssize_t (*real)(int, const void *, size_t, off_t);
	if (!real) real = dlsym(RTLD_NEXT, "pwrite");
	if (set("space")) { errno = ENOSPC; return -1; }
	return real(fd, buf, n, at);
}
