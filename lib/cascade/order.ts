/**
 * The order of costing: every node after all that it is costed from. Kahn's algorithm (Comm. ACM 5, 1962), iterative,
 * so that no depth of recipes overflows anything. Gives each node its level, the length of the longest way down to
 * what is bought; what is left over when nothing more can be taken stands in a cycle, or rests on one.
 */

/** Lines of nodes in columns: the sources of node i are source[start[i]] up to source[start[i + 1]]. */
export interface Sources {
  readonly nodes: number;
  readonly start: Int32Array;
  readonly source: Int32Array;
}

/** Levels of the nodes; −1 for those that a cycle keeps from being costed. */
export function levelsOf(sources: Sources): { readonly level: Int32Array; readonly settled: number } {
  const { nodes, start, source } = sources;
  const lines = start[nodes] as number;
  const waiting = new Int32Array(nodes);
  const first = new Int32Array(nodes + 1);
  for (let k = 0; k < lines; k += 1) (first[(source[k] as number) + 1] as number) += 1;
  for (let node = 0; node < nodes; node += 1) {
    waiting[node] = (start[node + 1] as number) - (start[node] as number);
    (first[node + 1] as number) += first[node] as number;
  }
  const users = new Int32Array(lines);
  const fill = first.slice(0, nodes);
  for (let node = 0; node < nodes; node += 1) {
    const stop = start[node + 1] as number;
    for (let k = start[node] as number; k < stop; k += 1) {
      const from = source[k] as number;
      users[fill[from] as number] = node;
      (fill[from] as number) += 1;
    }
  }

  const level = new Int32Array(nodes).fill(-1);
  const reached = new Int32Array(nodes);
  const queue = new Int32Array(nodes);
  let tail = 0;
  for (let node = 0; node < nodes; node += 1) if (waiting[node] === 0) queue[tail++] = node;
  for (let head = 0; head < tail; head += 1) {
    const node = queue[head] as number;
    const own = reached[node] as number;
    level[node] = own;
    const stop = first[node + 1] as number;
    for (let k = first[node] as number; k < stop; k += 1) {
      const user = users[k] as number;
      if ((reached[user] as number) <= own) reached[user] = own + 1;
      if (((waiting[user] as number) -= 1) === 0) queue[tail++] = user;
    }
  }
  return { level, settled: tail };
}

/**
 * A cycle among the nodes without a level, each node followed by one that it is costed from, the first told again at
 * the end. Walks from source to source inside what is left over, which must come round.
 */
export function cycleAmong(sources: Sources, level: Int32Array): readonly number[] {
  const { nodes, start, source } = sources;
  let node = level.indexOf(-1);
  const seenAt = new Map<number, number>();
  const path: number[] = [];
  while (!seenAt.has(node)) {
    seenAt.set(node, path.length);
    path.push(node);
    let next = -1;
    const stop = start[node + 1] as number;
    for (let k = start[node] as number; k < stop && next < 0; k += 1) if (level[source[k] as number] === -1) next = source[k] as number;
    if (next < 0 || path.length > nodes) throw new Error("expected a node without a level to rest on another");
    node = next;
  }
  return [...path.slice(seenAt.get(node)), node];
}

/**
 * Nodes sorted by (level, number of lines), so that in a sweep neighbours take equally many turns; two stable
 * counting sorts. Level and lines decide alone: nodes that share both stay in the order of their numbers.
 */
export function sortedBy(level: Int32Array, lines: Int32Array): Int32Array {
  const byLines = countingSort(Int32Array.from(level.keys()), lines);
  return countingSort(byLines, level);
}

function countingSort(nodes: Int32Array, key: Int32Array): Int32Array {
  let most = 0;
  for (const each of key) if (each > most) most = each;
  const place = new Int32Array(most + 2);
  for (const each of key) (place[each + 1] as number) += 1;
  for (let value = 0; value <= most; value += 1) (place[value + 1] as number) += place[value] as number;
  const sorted = new Int32Array(nodes.length);
  for (const node of nodes) {
    const value = key[node] as number;
    sorted[place[value] as number] = node;
    (place[value] as number) += 1;
  }
  return sorted;
}
