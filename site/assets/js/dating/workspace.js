/**
 * Large arrays that are used again from one answer to the next, since browsers
 * take longer to make one than to fill it. What was worked out in a workspace
 * holds until the workspace is used again.
 */
export class Workspace {
  constructor() {
    this.kept = new Map();
  }

  /**
   * An array under a name. It may hold anything.
   * @param {string} name
   * @param {Function} Type    a typed array's constructor
   * @param {number} length
   */
  array(name, Type, length) {
    let array = this.kept.get(name);
    if (!array || array.length < length) {
      array = new Type(length);
      this.kept.set(name, array);
    }
    return array.length === length ? array : array.subarray(0, length);
  }
}

/** A workspace that keeps nothing: every array is new. */
export const NEW_ARRAYS = { array: (_, Type, length) => new Type(length) };
