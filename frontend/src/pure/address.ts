/** Where one is, as the part of the address behind "#": "pattern/leaf". */

export interface Place {
  path: string;
  leaf: string;
}

export function addressOf(place: Place): string {
  return `#${encodeURIComponent(place.path)}/${place.leaf}`;
}

export function placeOf(hash: string): Place | null {
  const found = /^#([^/]*)\/([a-z-]+)$/.exec(hash);
  if (!found) return null;
  try {
    return { path: decodeURIComponent(found[1] ?? ""), leaf: found[2] ?? "" };
  } catch {
    return null;
  }
}
