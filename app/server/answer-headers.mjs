/** The headers of every answer: what a browser may do with it, and that nobody keeps it unless the app says otherwise. */

/** A camera is for photos at the block; nothing else of the machine is needed. */
const permissions = ["camera=(self)", ...["accelerometer", "display-capture", "geolocation", "gyroscope", "hid", "magnetometer", "microphone", "midi", "payment", "serial", "usb"].map((feature) => `${feature}=()`)].join(", ");

/** A photo never changes, so a browser may keep it; it asks each time whether it may still show it. */
const photo = /^\/photos\/[\w-]+(?:\?|$)/;

/**
 * @param {{ readonly requestId: string, readonly policy: string, readonly scheme: "http" | "https", readonly url?: string | undefined }} of
 * @returns {Record<string, string>}
 */
export function answerHeaders({ requestId, policy, scheme, url = "" }) {
  return {
    "X-Request-Id": requestId,
    "Content-Security-Policy": policy,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Permissions-Policy": permissions,
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "X-Frame-Options": "DENY",
    // A kitchen's figures are private. Next says otherwise for its static files, whose names change with their content.
    "Cache-Control": photo.test(url) ? "private, no-cache" : "no-store",
    ...(scheme === "https" ? { "Strict-Transport-Security": "max-age=31536000" } : {}),
  };
}
