/**
 * The frame of every page: fonts, the look, the skip link, and the number of the request that made it, for the pages
 * that say something went wrong. Fonts come with the app; nothing is fetched from elsewhere. Asking for the request here
 * also keeps every page from being made beforehand: each carries the nonce of its own answer (app/server/content-security.mjs).
 */
import type { Metadata, Viewport } from "next";
import type { ReactNode } from "react";
import "@fontsource-variable/source-sans-3/wght.css";
import "@fontsource-variable/source-serif-4/wght.css";
import "./globals/tokens.css";
import "./globals/base.css";
import "./globals/shell.css";
import "./globals/table.css";
import "./globals/form.css";
import "./globals/change.css";
import "./globals/print.css";
import { requestId } from "./request-id";

export const metadata: Metadata = {
  title: { default: "Trimledger", template: "%s · Trimledger" },
  description: "Yield tests, cost factors and plate costs, from the dealer’s price to the dish over its target.",
};

export const viewport: Viewport = {
  width: "device-width",
  initialScale: 1,
  themeColor: [{ media: "(prefers-color-scheme: light)", color: "#f7f4ec" }, { media: "(prefers-color-scheme: dark)", color: "#141310" }],
};

export default async function RootLayout({ children }: { readonly children: ReactNode }) {
  return (
    <html lang="en" data-request={await requestId()}>
      <body>
        <a className="skip" href="#page">Skip to the page</a>
        {children}
      </body>
    </html>
  );
}
