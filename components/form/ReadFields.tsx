/**
 * The fields for figures, each typed as a kitchen types and echoed as understood. They read with lib/measure, the same
 * code that the server reads with.
 *
 *   <QuantityField name="billed" label="Billed weight" kinds={["mass"]} bare="lb" />   18 lb 6 oz, 3 3/8 lb, 6.9 kg
 *   <MoneyField name="gross" label="Menu price" />                                     27, $27.00, 1.234,50 €
 *   <RateField name="price" label="Price a pound" bare="lb" />                         7.10, $7.10/lb, 15.65 / kg
 *   <ShareField name="target" label="Target" />                                        32, 32 %, 0.32
 *   <NumberField name="pieces" label="Pieces" />                                       3, 1 1/2
 */
"use client";
import {
  type Checked, type Kind, type Unit, UNITS, good, parseMoney, parseNumber, parseQuantity, parseRate, parseShare, printMoney, printNumber, quantityText, rateText, shareText, toDecimal,
} from "@/lib/measure";
import { useKitchen } from "@/components/kitchen/KitchenContext";
import { EchoField, type EchoFieldProps } from "./EchoField";

export function QuantityField({ kinds, bare, ...rest }: EchoFieldProps & {
  readonly kinds: readonly Kind[];
  /** Unit of a number typed without one. */
  readonly bare?: Unit | undefined;
}) {
  const { habits } = useKitchen();
  const understand = (text: string): Checked<string> => {
    const read = parseQuantity(text, habits, { kinds, bare });
    return read.ok ? good(quantityText(read.value, habits)) : read;
  };
  return <EchoField understand={understand} {...rest} />;
}

export function MoneyField(props: EchoFieldProps) {
  const { habits } = useKitchen();
  const understand = (text: string): Checked<string> => {
    const read = parseMoney(text, habits);
    return read.ok ? good(printMoney(toDecimal(read.value.amount), habits)) : read;
  };
  return <EchoField understand={understand} inputMode="decimal" {...props} />;
}

export function RateField({ bare, kinds, ...props }: EchoFieldProps & {
  /** Unit of a price typed without one. */
  readonly bare: Unit;
  /** The kinds of unit that would make sense here. */
  readonly kinds?: readonly Kind[] | undefined;
}) {
  const { habits } = useKitchen();
  const understand = (text: string): Checked<string> => {
    const read = parseRate(text, habits, { bare, kinds });
    return read.ok ? good(rateText(read.value, habits)) : read;
  };
  return <EchoField understand={understand} unit={`/ ${UNITS[bare].one}`} {...props} />;
}

export function ShareField(props: EchoFieldProps) {
  const { habits } = useKitchen();
  const understand = (text: string): Checked<string> => {
    const read = parseShare(text, habits);
    return read.ok ? good(shareText(read.value, habits)) : read;
  };
  return <EchoField understand={understand} unit="%" inputMode="decimal" {...props} />;
}

export function NumberField(props: EchoFieldProps) {
  const { habits } = useKitchen();
  const understand = (text: string): Checked<string> => {
    const read = parseNumber(text, habits);
    return read.ok ? good(printNumber(toDecimal(read.value), habits)) : read;
  };
  return <EchoField understand={understand} {...props} />;
}
