/**
 * Loaded into every child process: when the parent is gone, however it went, the child ends too. Otherwise a killed
 * supervisor would leave a server behind that holds the port.
 */
const LONGEST_GOODBYE_MS = 6_000;

if (process.channel) {
  process.once('disconnect', () => {
    process.kill(process.pid, 'SIGTERM');
    setTimeout(() => process.exit(1), LONGEST_GOODBYE_MS).unref();
  });
  // Listening must not keep a process alive that has nothing else to do.
  process.channel.unref();
}
