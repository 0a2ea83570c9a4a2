// Hands a file to the system, which keeps it among the downloads.
// It never keeps a file in the yard. Invariant: what was handed out is let go of in memory.

const LATER = 60_000;

/**
 * @param {string} name
 * @param {string} base64
 */
export function handOut(name, base64) {
  const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
  const url = URL.createObjectURL(new Blob([bytes], { type: 'application/octet-stream' }));
  const anchor = document.createElement('a');
  Object.assign(anchor, { href: url, download: name });
  document.body.append(anchor);
  anchor.click();
  anchor.remove();
  setTimeout(() => URL.revokeObjectURL(url), LATER);
}
