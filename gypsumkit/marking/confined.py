"""Started as a program of its own: shuts one other program into an empty room and runs it there (Linux).

The room has its own users, processes, network and files: a few folders for reading only, and one small empty folder for
writing. This file needs the standard library alone, reads what to do as JSON from its input, and says how it went, as
JSON lines, to the file number in its first argument.
"""

import ctypes
import json
import os
import resource
import signal
import stat
import sys

NEW_MOUNTS, NEW_CGROUP, NEW_NAMES, NEW_IPC, NEW_USER, NEW_PROCESSES, NEW_NETWORK = (
    0x20000, 0x2000000, 0x4000000, 0x8000000, 0x10000000, 0x20000000, 0x40000000)
READ_ONLY, NO_SUID, NO_DEVICES, REMOUNT, BIND, RECURSIVE, PRIVATE = 0x1, 0x2, 0x4, 0x20, 0x1000, 0x4000, 0x40000
AT_ONCE_AWAY = 2                                    # umount2: MNT_DETACH
SET_MOUNT_ATTRIBUTES, FROM_HERE, ALL_BELOW, EMPTY_PATH = 442, -100, 0x8000, 0x1000
DIE_WITH_PARENT, NO_NEW_RIGHTS = 1, 38              # prctl
NOBODY = 65534

libc = ctypes.CDLL(None, use_errno=True)


def called(name, *arguments):
    """Call a function of the C library; an error becomes an OSError that names it."""
    if getattr(libc, name)(*arguments) < 0:
        error = ctypes.get_errno()
        raise OSError(error, f"{name}: {os.strerror(error)}")


def mount(what, where, kind, flags, options=""):
    """Mount one place."""
    called("mount", what.encode(), where.encode(), kind.encode(), ctypes.c_ulong(flags), options.encode())


def only_to_read(where):
    """Make a mounted place, and all that is mounted below it, readable only."""
    attributes = (ctypes.c_uint64 * 4)(READ_ONLY | NO_SUID | NO_DEVICES, 0, 0, 0)
    called("syscall", SET_MOUNT_ATTRIBUTES, FROM_HERE, where.encode(), ALL_BELOW, ctypes.byref(attributes), ctypes.sizeof(attributes))


def own_namespaces():
    """Leave the computer's users, processes, network and mounts; an ordinary user becomes nobody in a user space of its own."""
    spaces = NEW_MOUNTS | NEW_NAMES | NEW_IPC | NEW_PROCESSES | NEW_NETWORK | NEW_CGROUP
    if os.geteuid() == 0:
        called("unshare", spaces)
        return
    user, group = os.geteuid(), os.getegid()
    called("unshare", spaces | NEW_USER)
    for name, text in (("setgroups", "deny"), ("uid_map", f"{NOBODY} {user} 1"), ("gid_map", f"{NOBODY} {group} 1")):
        with open(f"/proc/self/{name}", "w", encoding="ascii") as file:
            file.write(text)


def furnished(room, wanted):
    """Mount an empty room and put into it what the program may see."""
    mount("none", "/", "none", RECURSIVE | PRIVATE)
    mount("room", room, "tmpfs", NO_SUID | NO_DEVICES, "size=2m,mode=755")
    for source, target in wanted["to_read"]:
        place = room + target
        if os.path.islink(source):
            os.makedirs(os.path.dirname(place), exist_ok=True)
            os.symlink(os.readlink(source), place)
            continue
        if stat.S_ISDIR(os.stat(source).st_mode):
            os.makedirs(place, exist_ok=True)
        else:
            os.makedirs(os.path.dirname(place), exist_ok=True)
            open(place, "x", encoding="ascii").close()
        mount(source, place, "none", BIND | RECURSIVE)
        only_to_read(place)
    with open(room + "/program.py", "x", encoding="utf-8") as file:
        file.write(wanted["program"])
    os.chmod(room + "/program.py", 0o444)
    os.mkdir(room + wanted["own_place"])
    mount("own", room + wanted["own_place"], "tmpfs", NO_SUID | NO_DEVICES, f"size={wanted['file_bytes'] * 2},nr_inodes={wanted['files'] + 1},mode=1777")


def shut_in(room, own_place):
    """Make the room the whole world of this process."""
    os.chdir(room)
    called("pivot_root", b".", b".")
    called("umount2", b".", AT_ONCE_AWAY)
    mount("none", "/", "none", REMOUNT | BIND | READ_ONLY | NO_SUID | NO_DEVICES)
    os.chdir(own_place)


def limited(wanted):
    """Set the limits and give away every right."""
    if os.geteuid() == 0:
        os.setgroups([])
        try:
            os.setresgid(wanted["user"], wanted["user"], wanted["user"])
            os.setresuid(wanted["user"], wanted["user"], wanted["user"])
        except OSError:                             # a container that knows only some users
            os.setresgid(NOBODY, NOBODY, NOBODY)
            os.setresuid(NOBODY, NOBODY, NOBODY)
    called("prctl", NO_NEW_RIGHTS, 1, 0, 0, 0)
    called("prctl", DIE_WITH_PARENT, signal.SIGKILL, 0, 0, 0)
    for name, most in (("CPU", wanted["cpu_s"]), ("AS", wanted["memory_bytes"]), ("FSIZE", wanted["file_bytes"]),
                       ("NOFILE", wanted["files"]), ("NPROC", wanted["processes"]), ("CORE", 0), ("MSGQUEUE", 0), ("MEMLOCK", 0)):
        kind = getattr(resource, "RLIMIT_" + name)
        hard = resource.getrlimit(kind)[1]
        most = most if hard == resource.RLIM_INFINITY else min(most, hard)
        resource.setrlimit(kind, (most, most))


def main():
    """Do what the input says."""
    tell = int(sys.argv[1])

    def say(**words):
        os.write(tell, json.dumps(words).encode() + b"\n")

    os.set_inheritable(tell, False)
    wanted = json.loads(sys.stdin.buffer.read())
    nothing = os.open(os.devnull, os.O_RDONLY)
    os.dup2(nothing, 0)
    try:
        own_namespaces()
        called("prctl", DIE_WITH_PARENT, signal.SIGKILL, 0, 0, 0)
        if os.getppid() != wanted["parent"]:
            return
        furnished(wanted["room"], wanted)
        inside = os.fork()
    except (OSError, AttributeError) as error:
        say(refused=str(error))
        return
    if inside == 0:
        try:
            shut_in(wanted["room"], wanted["own_place"])
            limited(wanted)
            say(started=True)
            os.execve(wanted["command"][0], wanted["command"], wanted["surroundings"])
        except (OSError, ValueError, AttributeError) as error:
            say(refused=str(error))
        os._exit(1)
    for stream in (1, 2):
        os.dup2(nothing, stream)
    ended = os.waitstatus_to_exitcode(os.waitpid(inside, 0)[1])
    say(ended=ended)


if __name__ == "__main__":
    main()
