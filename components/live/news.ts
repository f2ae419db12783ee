/** What an open page is told of a change: the same for everybody in the kitchen, whoever sees money and who does not. */
export interface LiveNews {
  /** The kitchen's last change; `changes` counts those that were not heard of yet. */
  readonly changeNo: number;
  readonly changes: number;
  /** A moment in UTC. */
  readonly at: string;
  readonly by: string;
  /** "changed Strip loin, cleaned (cut)". */
  readonly what: string;
  /** Whether the reader recorded it, here or on another device. */
  readonly own: boolean;
}
