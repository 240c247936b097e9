#[test] fn t(){}
mod facts;
mod laws;
