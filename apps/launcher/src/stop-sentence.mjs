/**
 * A failure that the person at the keyboard can mend. Its message is the one sentence they read;
 * anything else that is thrown is a defect and keeps its stack.
 */
export class StopSentence extends Error {
  constructor(message, options) {
    super(message, options);
    this.name = 'StopSentence';
  }
}

const DISK_FULL = /ENOSPC|No space left on device|could not extend file|EDQUOT|Disk quota exceeded/i;

/** True when an error or a program's output says that the disk is full. */
export function saysDiskFull(text) {
  return DISK_FULL.test(String(text));
}

/** Turns the file-system errors that people cause or meet into sentences; passes everything else on. */
export function explainFileError(error, path) {
  if (error instanceof StopSentence) return error;
  if (saysDiskFull(`${error.code} ${error.message}`)) {
    return new StopSentence(`The disk that holds ${path} is full: free some space and start again.`, {
      cause: error,
    });
  }
  if (
    error.code === 'EACCES' ||
    error.code === 'EPERM' ||
    error.code === 'EROFS' ||
    (error.code === 'ENOENT' && error.syscall === 'mkdir')
  ) {
    return new StopSentence(
      `${path} cannot be written: give this user the right to write there, or set DATA_DIR to another folder.`,
      { cause: error },
    );
  }
  if (error.code === 'ENOTDIR' || error.code === 'EEXIST') {
    return new StopSentence(`${path} is not a folder: remove that file, or set DATA_DIR to another folder.`, {
      cause: error,
    });
  }
  return error;
}

/** Runs a command's main function; ends with exit code 1 and one sentence, or with a stack for a defect. */
export async function runMain(main) {
  try {
    await main();
  } catch (error) {
    process.stderr.write(`${error instanceof StopSentence ? error.message : (error?.stack ?? error)}\n`);
    process.exitCode = 1;
  }
}
