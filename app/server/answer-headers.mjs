/** The headers of every answer: what a browser may do with it, and that nobody keeps it unless the app says otherwise. */

/** A camera is for photos at the block; nothing else of the machine is needed. */
const permissions = ["camera=(self)", ...["accelerometer", "display-capture", "geolocation", "gyroscope", "hid", "magnetometer", "microphone", "midi", "payment", "serial", "usb"].map((feature) => `${feature}=()`)].join(", ");

/**
 * @param {{ readonly requestId: string, readonly policy: string, readonly scheme: "http" | "https" }} of
 * @returns {Record<string, string>}
 */
export function answerHeaders({ requestId, policy, scheme }) {
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
    "Cache-Control": "no-store",
    ...(scheme === "https" ? { "Strict-Transport-Security": "max-age=31536000" } : {}),
  };
}
