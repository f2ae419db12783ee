/**
 * Buttons: one strong one a page, plain ones beside it. `ButtonLink` looks the same and goes somewhere. 44 px high.
 */
import Link from "next/link";
import type { ButtonHTMLAttributes, ReactNode } from "react";

export function Button({ plain = false, small = false, className, ...rest }: ButtonHTMLAttributes<HTMLButtonElement> & { readonly plain?: boolean; readonly small?: boolean }) {
  return <button type="button" {...rest} className={["btn", plain || small ? "plain" : "", small ? "small" : "", className ?? ""].filter(Boolean).join(" ")} />;
}

export function ButtonLink({ href, plain = false, children }: { readonly href: string; readonly plain?: boolean; readonly children: ReactNode }) {
  return <Link className={plain ? "btn plain" : "btn"} href={href}>{children}</Link>;
}
