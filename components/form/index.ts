export { Button, ButtonLink } from "./Button";
export { TextField } from "./TextField";
export { EchoField, type EchoFieldProps } from "./EchoField";
export { MoneyField, NumberField, QuantityField, RateField, ShareField } from "./ReadFields";
export { type Choice, type ChoiceGroup, RadioField, SelectField, TickField } from "./SelectField";
export { DateField } from "./DateField";
export { LinesField } from "./LinesField";
export { FormFrame, type Values } from "./FormContext";
export { PickField, PickList } from "./PickField";
