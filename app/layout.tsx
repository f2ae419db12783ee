/** The frame of every page: fonts, the look, the skip link. Fonts come with the app; nothing is fetched from elsewhere. */
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

export const metadata: Metadata = {
  title: { default: "Trimledger", template: "%s · Trimledger" },
  description: "Yield tests, cost factors and plate costs, from the dealer’s price to the dish over its target.",
};

export const viewport: Viewport = {
  width: "device-width",
  initialScale: 1,
  themeColor: [{ media: "(prefers-color-scheme: light)", color: "#f7f4ec" }, { media: "(prefers-color-scheme: dark)", color: "#141310" }],
};

export default function RootLayout({ children }: { readonly children: ReactNode }) {
  return (
    <html lang="en">
      <body>
        <a className="skip" href="#page">Skip to the page</a>
        {children}
      </body>
    </html>
  );
}
