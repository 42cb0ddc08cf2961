//! Reading a saved web page that carries schema.org Recipe data.
