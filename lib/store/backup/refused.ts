/** A backup or a restore that is refused: the sentence says what is wrong and what would be right; nothing was touched. */
export class BackupRefused extends Error {
  override readonly name = "BackupRefused";
}

/** A file that is no whole backup: `what` is wrong with it, as the end of a sentence. */
export class Damaged extends BackupRefused {
  constructor(readonly file: string, readonly what: string) {
    super(`The backup ${file} is damaged: ${what}. Nothing was restored from it. Use another copy of it, or an earlier backup.`);
  }
}

/** The sentence of whatever went wrong, for a message that goes on. */
export function sentenceOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
